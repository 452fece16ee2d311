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
 * Puts a job's catalogue, rates, lanes, stock and looms into a club, an entry a call; what is refused does not hold up the
 * rest. Rates are refused where the club's currency is another than that in which the file gives them. Rejects where the key
 * opens nothing or may not do it: then no entry would fare better.
 */
export async function loadJob(api: Caller, job: Job): Promise<Loaded> {
  const loaded: Loaded = { added: 0, same: 0, differing: [], refused: [] };
  const { parts, suppliers, offers, fits, lanes, stock } = job;
  const looms = job.looms.map(({ revision: _revision, ...loom }) => loom);
  const inOther = await currencyApart(api, job);
  const rates = inOther === undefined ? job.rates : [];
  if (inOther !== undefined)
    loaded.refused.push(...job.rates.map(({ code }) => ({ entry: `rates ${code}`, why: inOther })));
  const lists = { parts, suppliers, offers, fits, rates, lanes, stock, looms };
  for (const [name, entries] of Object.entries(lists))
    for (const entry of entries) {
      const called = 'code' in entry ? entry.code : `${entry.from}/${entry.relation}/${entry.to}`;
      try {
        await api.send('POST', `/v1/${name}`, entry);
        loaded.added++;
      } catch (error) {
        if (!(error instanceof Refused) || error.status === 401 || error.status === 403) throw error;
        const word = `${name} ${called}`;
        const stored = error.status === 409 ? await storedAt(api, `/v1/${name}/${called}`) : undefined;
        // A rate of the same day or a lane of the same way stands under another code: what is said of it names that one.
        if (stored === undefined) loaded.refused.push({ entry: word, why: error.message });
        else if (stored === canonicalJson(entry)) loaded.same++;
        else loaded.differing.push(word);
      }
    }
  return loaded;
}

/** Why a file's rates do not hold in a club, or undefined where they do, or where there are none. */
async function currencyApart(api: Caller, { rates, club }: Job): Promise<string | undefined> {
  if (rates.length === 0) return undefined;
  const { currency } = (await (await api.get('/v1/club')).json()) as ClubTerms;
  return currency === club.currency
    ? undefined
    : `The file says what a currency is worth in ${club.currency}, and the club’s is ${currency}. Set the file’s terms with --terms, or enter rates into ${currency}.`;
}

/** What is stored there, as canonical JSON, or undefined where nothing is; a loom's revision number is the club's own. */
async function storedAt(api: Caller, path: string): Promise<string | undefined> {
  try {
    const { revision: _revision, ...stored } = (await (await api.get(path)).json()) as object & {
      revision?: number;
    };
    return canonicalJson(stored);
  } catch (error) {
    if (error instanceof Refused && error.status === 404) return undefined;
    throw error;
  }
}

/** In which currency, country and settings a file's terms and a club's differ, in words. */
export function termsApart(file: ClubTerms, club: ClubTerms): string[] {
  const names = [...new Set([...Object.keys(file.settings), ...Object.keys(club.settings)])].sort();
  const told = (value: unknown) => (value === undefined ? 'unset' : JSON.stringify(value));
  const valuesOf = (terms: ClubTerms) => terms.settings as Record<string, unknown>;
  return [
    ...(file.currency === club.currency ? [] : [`currency: file ${file.currency}, club ${club.currency}`]),
    ...(file.country === club.country
      ? []
      : [`country: file ${file.country ?? 'unset'}, club ${club.country ?? 'unset'}`]),
    ...names.flatMap((name) => {
      const [theirs, ours] = [told(valuesOf(file)[name]), told(valuesOf(club)[name])];
      return theirs === ours ? [] : [`${name}: file ${theirs}, club ${ours}`];
    }),
  ];
}
