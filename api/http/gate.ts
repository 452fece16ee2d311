import type { Database } from '../../db/connect.ts';
import { keyOfHash, type Key } from '../../db/keys.ts';
import { keyRing } from './keyRing.ts';
import { tallyOf, type Left, type SharedCounts, type Tally } from './limits/tally.ts';
import { HttpProblem } from './problem.ts';

/** How much is let in; 0, and what is left out: without a limit. */
export interface GateLimits {
  /** Of one key. */
  requestsPerMinute?: number;
  /** Of one address: keys that open nothing. */
  failedKeysPerMinute?: number;
}

/** What stands before every call that needs a key. */
export interface Gate {
  /**
   * Whose key it is. Problems: 401, the same for a missing, a malformed and an unknown key; 429 for a key that asks too
   * often, and for a key that is not known here from an address that sent too many that open nothing.
   */
  enter(secret: string | undefined, address: string | undefined): Promise<Key>;
  /**
   * What a code leads to, which anybody may send: each that leads to nothing counts against its address, as keys that open
   * nothing do. Problem: 429 from an address that sent too many.
   */
  tryCode<T>(address: string | undefined, look: () => Promise<T | undefined>): Promise<T | undefined>;
  /** To be called once the revocation of a key is committed: from then on it opens nothing here. */
  forget(keyId: string): void;
  close(): void;
}

/** How often the processes of a service tell each other what they counted. */
const TELL_MS = 500;

/** The gate of one process. */
export function gateOf(
  database: Database,
  { requestsPerMinute = 0, failedKeysPerMinute = 0 }: GateLimits,
  shared?: (what: string) => SharedCounts,
  now: () => number = () => performance.now(),
): Gate {
  const ring = keyRing((hash) => keyOfHash(database, hash), now);
  const requests = tallyOf(requestsPerMinute, now, shared?.('key'));
  const failures = tallyOf(failedKeysPerMinute, now, shared?.('address'));

  let telling = false;
  const teller = shared
    ? setInterval(() => {
        if (telling) return;
        telling = true;
        void Promise.all([requests.tell(), failures.tell()]).then(() => (telling = false));
      }, TELL_MS).unref()
    : undefined;

  /**
   * A key that was good before is looked up from any address: the members of a club may share theirs with someone who
   * sends a wrong key again and again.
   */
  async function keyFrom(secret: string, address: string | undefined): Promise<Key | undefined> {
    if (address === undefined) return ring.find(secret);
    let counted = false;
    const key = await ring.find(secret, () => {
      const left = failures.take(address);
      if (!left.allowed) throw tooManyFailed(failures, left);
      counted = true;
    });
    if (key && counted) failures.giveBack(address);
    return key;
  }

  return {
    async enter(secret, address) {
      const key = secret === undefined ? undefined : await keyFrom(secret, address);
      if (!key) throw noKey();
      const left = requests.take(key.id);
      if (!left.allowed) throw tooManyAsked(requests, left);
      return key;
    },
    async tryCode(address, look) {
      if (address === undefined) return look();
      const left = failures.take(address);
      if (!left.allowed) throw tooManyFailed(failures, left);
      const found = await look();
      if (found !== undefined) failures.giveBack(address);
      return found;
    },
    forget: (keyId) => ring.forget(keyId),
    close: () => clearInterval(teller),
  };
}

function noKey(): HttpProblem {
  return new HttpProblem(
    'unauthorized',
    'The request has no key, or the key is not valid: it is incomplete, or it was revoked. Send a key of your club as Authorization: Bearer lw_…',
    { headers: { 'www-authenticate': 'Bearer realm="loomwright"' } },
  );
}

function tooManyAsked({ perMinute }: Tally, left: Left): HttpProblem {
  const seconds = secondsOf(left);
  return new HttpProblem(
    'too-many-requests',
    `Your key has sent ${perMinute.toLocaleString('en')} requests within a minute; this server takes no more. Wait ${inWords(seconds)}, then try again.`,
    { headers: limitHeaders('key', perMinute, seconds) },
  );
}

function tooManyFailed({ perMinute }: Tally, left: Left): HttpProblem {
  const seconds = secondsOf(left);
  return new HttpProblem(
    'too-many-requests',
    `Your address has sent ${perMinute.toLocaleString('en')} keys or codes within a minute that are not valid; this server looks at no more. Wait ${inWords(seconds)}, then try again with a valid one.`,
    { headers: limitHeaders('address', perMinute, seconds) },
  );
}

function secondsOf({ endsInMs }: Left): number {
  return Math.max(1, Math.ceil(endsInMs / 1000));
}

function inWords(seconds: number): string {
  return seconds === 1 ? '1 second' : `${seconds} seconds`;
}

/** As in draft-ietf-httpapi-ratelimit-headers-10: a policy by name, and what is left of it. */
function limitHeaders(policy: string, perMinute: number, seconds: number): Record<string, string> {
  return {
    'retry-after': `${seconds}`,
    'ratelimit-policy': `"${policy}";q=${perMinute};w=60`,
    ratelimit: `"${policy}";r=0;t=${seconds}`,
  };
}
