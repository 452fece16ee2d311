import { randomUUID } from 'node:crypto';

/** Longest pause before a request is repeated, ms: Retry-After is in whole seconds and would make a test long. */
const PAUSE_MS = 50;

export interface Acknowledged {
  key: string;
  id: string;
  task: string;
}

/** Clients that ask for quotes one after the other, each with an Idempotency-Key, and repeat until they are told that it is taken in. */
export interface RepeatingClients {
  acknowledged: readonly Acknowledged[];
  /** How often each kind of answer came that was no 202; a connection that broke counts as `no answer`. */
  refused: ReadonlyMap<string, number>;
  /** The longest time that one call took, ms. */
  longestMs(): number;
  /** Takes up no new request; rejects where one is not taken in within the time. */
  stop(): Promise<void>;
}

/** Starts so many of them against a server. A call without an answer is given up after `callMs`. */
export function repeatingClients(options: {
  url: string;
  secret: string;
  loom: string;
  clients: number;
  callMs?: number;
}): RepeatingClients {
  const { url, secret, loom, clients, callMs = 60_000 } = options;
  const acknowledged: Acknowledged[] = [];
  const refused = new Map<string, number>();
  let stopped = false;
  let longest = 0;

  async function call(key: string): Promise<Acknowledged | undefined> {
    const began = performance.now();
    const answer = await fetch(`${url}/v1/quotes`, {
      method: 'POST',
      headers: {
        authorization: `Bearer ${secret}`,
        'content-type': 'application/json',
        'idempotency-key': key,
      },
      body: JSON.stringify({ looms: [{ loom, quantity: 1 }] }),
      signal: AbortSignal.timeout(callMs),
    })
      .then(async (response) => ({ status: response.status, text: await response.text() }))
      .catch(() => undefined);
    longest = Math.max(longest, performance.now() - began);
    if (answer?.status === 202) {
      const { id, task } = JSON.parse(answer.text) as { id: string; task: string };
      return { key, id, task: task.split('/').at(-1) ?? '' };
    }
    const kind = answer === undefined ? 'no answer' : kindOf(answer);
    refused.set(kind, (refused.get(kind) ?? 0) + 1);
    return undefined;
  }

  async function client(): Promise<void> {
    while (!stopped) {
      const key = randomUUID();
      let taken: Acknowledged | undefined;
      for (let tries = 0; taken === undefined; tries++) {
        if (tries > 600)
          throw new Error(`not taken in after ${tries} tries: ${JSON.stringify([...refused])}`);
        taken = await call(key);
        if (taken === undefined) await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
      }
      acknowledged.push(taken);
    }
  }

  const running = Array.from({ length: clients }, client);
  // A client that gave up is told of by stop().
  for (const one of running) one.catch(() => undefined);
  return {
    acknowledged,
    refused,
    longestMs: () => longest,
    stop: async () => {
      stopped = true;
      await Promise.all(running);
    },
  };
}

function kindOf({ status, text }: { status: number; text: string }): string {
  try {
    const { type } = JSON.parse(text) as { type?: string };
    return `${status} ${type?.split(/[:/]/).at(-1) ?? ''}`;
  } catch {
    return String(status);
  }
}
