import type { JobInput } from '../worker/engine/model/job.ts';

/** A caller of the API over HTTP, for the commands. Rejects with the problem's text where a call is refused. */
export interface Caller {
  get(path: string): Promise<Response>;
  send(
    method: 'POST' | 'PUT',
    path: string,
    body: unknown,
    headers?: Record<string, string>,
  ): Promise<Response>;
}

/** A call was refused. */
class Refused extends Error {
  readonly status: number;
  constructor(call: string, status: number, text: string) {
    super(`${call}: ${status} ${text}`);
    this.status = status;
  }
}

export function callerOf(url: string, key: string): Caller {
  const authorization = `Bearer ${key}`;
  const checked = async (path: string, init: RequestInit) => {
    const answer = await fetch(`${url}${path}`, init);
    if (!answer.ok) throw new Refused(`${init.method ?? 'GET'} ${path}`, answer.status, await answer.text());
    return answer;
  };
  return {
    get: (path) => checked(path, { headers: { authorization } }),
    send: (method, path, body, headers = {}) =>
      checked(path, {
        method,
        headers: { authorization, 'content-type': 'application/json', ...headers },
        body: JSON.stringify(body),
      }),
  };
}

/** What came of loading a job file: how many entries were added, were there before, and were refused with why. */
export interface Loaded {
  added: number;
  there: number;
  refused: { entry: string; why: string }[];
}

/** Puts a job file's catalogue and looms into a club, an entry a call; what is refused does not hold up the rest. */
export async function loadJob(
  api: Caller,
  job: Pick<JobInput, 'parts' | 'suppliers' | 'offers' | 'looms'>,
): Promise<Loaded> {
  const loaded: Loaded = { added: 0, there: 0, refused: [] };
  const looms = job.looms.map(({ revision: _revision, ...loom }) => loom);
  const lists = { parts: job.parts, suppliers: job.suppliers, offers: job.offers, looms };
  for (const [name, entries] of Object.entries(lists))
    for (const entry of entries) {
      try {
        await api.send('POST', `/v1/${name}`, entry);
        loaded.added++;
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        if (error.status === 409) loaded.there++;
        else loaded.refused.push({ entry: `${name} ${entry.code}`, why: error.message });
      }
    }
  return loaded;
}
