import { canonicalJson } from '../worker/engine/model/canonical.ts';
import type { ClubTerms, Job } from '../worker/engine/model/job.ts';
import { printable } from '../worker/sheets/textTable.ts';
import type { Problem } from './http/problem.ts';

/** A caller of the API over HTTP, for the commands. Rejects with Refused where a call is refused. */
export interface Caller {
  get(path: string): Promise<Response>;
  send(
    method: 'POST' | 'PUT',
    path: string,
    body: unknown,
    headers?: Record<string, string>,
  ): Promise<Response>;
}

/** A call was refused; its message is the problem's, in words. */
class Refused extends Error {
  readonly status: number;
  constructor(call: string, status: number, text: string) {
    super(`${call}: ${status} ${inWords(text)}`);
    this.status = status;
  }
}

/** A problem document in words; another text as it is, without what a terminal would obey. */
function inWords(text: string): string {
  let problem: Partial<Problem>;
  try {
    problem = JSON.parse(text) as Partial<Problem>;
  } catch {
    return printable(text.slice(0, 500));
  }
  const findings = (problem.findings ?? []).map(({ at, found, todo }) => `${at}: found ${found}. ${todo}`);
  return printable([problem.detail ?? problem.title ?? '', ...findings].join(' '));
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

/** What came of loading a job file. */
export interface Loaded {
  added: number;
  /** There before, alike. */
  same: number;
  /** There before under the same name, but with another content, which stays. */
  differing: string[];
  refused: { entry: string; why: string }[];
}

/**
 * Puts a job's catalogue and looms into a club, an entry a call; what is refused does not hold up the rest. Rejects where
 * the key opens nothing or may not do it: then no entry would fare better.
 */
export async function loadJob(
  api: Caller,
  job: Pick<Job, 'parts' | 'suppliers' | 'offers' | 'fits' | 'looms'>,
): Promise<Loaded> {
  const loaded: Loaded = { added: 0, same: 0, differing: [], refused: [] };
  const looms = job.looms.map(({ revision: _revision, ...loom }) => loom);
  const lists = { parts: job.parts, suppliers: job.suppliers, offers: job.offers, fits: job.fits, looms };
  for (const [name, entries] of Object.entries(lists))
    for (const entry of entries) {
      const called = 'code' in entry ? entry.code : `${entry.from}/${entry.relation}/${entry.to}`;
      try {
        await api.send('POST', `/v1/${name}`, entry);
        loaded.added++;
      } catch (error) {
        if (!(error instanceof Refused) || error.status === 401 || error.status === 403) throw error;
        const word = `${name} ${called}`;
        if (error.status !== 409) loaded.refused.push({ entry: word, why: error.message });
        else if (await isThere(api, `/v1/${name}/${called}`, entry)) loaded.same++;
        else loaded.differing.push(word);
      }
    }
  return loaded;
}

/** Whether the same content is stored; a loom's revision number is the club's own. */
async function isThere(api: Caller, path: string, entry: object): Promise<boolean> {
  const { revision: _revision, ...stored } = (await (await api.get(path)).json()) as Record<string, unknown>;
  return canonicalJson(stored) === canonicalJson(entry);
}

/** In which currency and settings a file's terms and a club's differ, in words. */
export function termsApart(file: ClubTerms, club: ClubTerms): string[] {
  const names = [...new Set([...Object.keys(file.settings), ...Object.keys(club.settings)])].sort();
  const told = (value: unknown) => (value === undefined ? 'unset' : JSON.stringify(value));
  const valuesOf = (terms: ClubTerms) => terms.settings as Record<string, unknown>;
  return [
    ...(file.currency === club.currency ? [] : [`currency: file ${file.currency}, club ${club.currency}`]),
    ...names.flatMap((name) => {
      const [theirs, ours] = [told(valuesOf(file)[name]), told(valuesOf(club)[name])];
      return theirs === ours ? [] : [`${name}: file ${theirs}, club ${ours}`];
    }),
  ];
}
