import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { ClubTerms, Job } from '../../worker/engine/model/job.ts';
import { Refused, Unreachable, type Caller } from '../client.ts';
import { differencesOf, type Difference } from './differences.ts';

/** add: what is there already stays. update: it is set to the file's. preview: nothing is written. */
export type Way = 'add' | 'update' | 'preview';

/** An entry that is there and is not as in the file. */
export interface Differing {
  entry: string;
  differences: Difference[];
  /** Of a loom: the revision that was made, or would be. */
  revision?: number;
}

/** What came of loading a job file; with `preview`, what would come of it with `update`. */
export interface Loaded {
  added: string[];
  /** There before, alike. */
  same: number;
  /** Set to the file's. */
  updated: Differing[];
  /** There with another content, which stays. */
  differing: Differing[];
  refused: { entry: string; why: string }[];
}

interface Options {
  way?: Way;
  /** The club's currency as it will be, where it is not the one that it has. */
  currency?: string;
}

/** One entry of the file and where it stands in the club. */
interface Entry {
  called: string;
  list: string;
  path: string;
  body: object;
}

interface Stored {
  body: object;
  tag: string;
  revision: number | undefined;
}

/**
 * Puts a job's catalogue, rates, lanes, stock and looms into a club, an entry a call; what is refused does not hold up the
 * rest. Rates are refused where the club's currency is another than that in which the file gives them. Rejects where the key
 * opens nothing or may not do it: then no entry would fare better.
 */
export async function loadJob(
  api: Caller,
  job: Job,
  { way = 'add', currency }: Options = {},
): Promise<Loaded> {
  const loaded: Loaded = { added: [], same: 0, updated: [], differing: [], refused: [] };
  const ratesApart = await currencyApart(api, job, currency);
  for (const entry of entriesOf(job)) {
    if (entry.list === '/v1/rates' && ratesApart !== undefined) {
      loaded.refused.push({ entry: entry.called, why: ratesApart });
      continue;
    }
    try {
      await loadEntry(api, entry, way, loaded);
    } catch (error) {
      if (error instanceof Refused && (error.status === 401 || error.status === 403)) throw error;
      if (error instanceof Unreachable) {
        // No further entry would arrive.
        loaded.refused.push({ entry: `${entry.called} and what follows`, why: error.message });
        break;
      }
      if (!(error instanceof Refused)) throw error;
      loaded.refused.push({ entry: entry.called, why: error.message });
    }
  }
  return loaded;
}

const WORDS = {
  parts: 'part',
  suppliers: 'supplier',
  offers: 'offer',
  fits: 'fit',
  rates: 'rate',
  lanes: 'lane',
  stock: 'stock item',
  looms: 'loom',
} as const;

/** What names others comes after them. */
function entriesOf(job: Job): Entry[] {
  return Object.entries(WORDS).flatMap(([list, word]) =>
    job[list as keyof typeof WORDS].map((item): Entry => {
      const { revision: _revision, ...body } = item as object & { revision?: number };
      const name = 'code' in item ? item.code : `${item.from}/${item.relation}/${item.to}`;
      return { called: `${word} ${name}`, list: `/v1/${list}`, path: `/v1/${list}/${name}`, body };
    }),
  );
}

async function loadEntry(api: Caller, entry: Entry, way: Way, loaded: Loaded): Promise<void> {
  const refusal = way === 'preview' ? undefined : await added(api, entry);
  if (refusal === 'added') return void loaded.added.push(entry.called);
  const stored = await storedAt(api, entry.path);
  if (stored === undefined) {
    // A rate of the same day or a lane of the same way stands under another code: what is said of it names that one.
    if (refusal !== undefined) throw refusal;
    return void loaded.added.push(entry.called);
  }
  if (canonicalJson(stored.body) === canonicalJson(entry.body)) return void loaded.same++;
  const isLoom = stored.revision !== undefined;
  const differing: Differing = {
    entry: entry.called,
    differences: differencesOf(stored.body, entry.body),
    ...(stored.revision === undefined ? {} : { revision: stored.revision + 1 }),
  };
  if (way !== 'update') return void loaded.differing.push(differing);
  const tag = { 'if-match': stored.tag };
  // A loom's revisions never change: it gets another.
  await (isLoom
    ? api.send('POST', `${entry.path}/revisions`, entry.body, tag)
    : api.send('PUT', entry.path, entry.body, tag));
  loaded.updated.push(differing);
}

/** Whether an entry was new and is there now; else the refusal that says that something stands there. */
async function added(api: Caller, { list, body }: Entry): Promise<'added' | Refused> {
  try {
    await api.send('POST', list, body);
    return 'added';
  } catch (error) {
    if (error instanceof Refused && error.status === 409) return error;
    throw error;
  }
}

/** What is stored there, or undefined where nothing is; a loom in its latest revision. */
async function storedAt(api: Caller, path: string): Promise<Stored | undefined> {
  try {
    const answer = await api.get(path);
    const { revision, ...body } = (await answer.json()) as object & { revision?: number };
    return { body, tag: answer.headers.get('etag') ?? '', revision };
  } catch (error) {
    if (error instanceof Refused && error.status === 404) return undefined;
    throw error;
  }
}

/** Why a file's rates do not hold in a club, or undefined where they do, or where there are none. */
async function currencyApart(api: Caller, { rates, club }: Job, known?: string): Promise<string | undefined> {
  if (rates.length === 0) return undefined;
  const currency = known ?? ((await (await api.get('/v1/club')).json()) as ClubTerms).currency;
  return currency === club.currency
    ? undefined
    : `The rates in the file are rates to ${club.currency}, but the club’s currency is ${currency}. Set the file’s terms with --terms, or enter rates to ${currency}.`;
}
