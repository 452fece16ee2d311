import { LOOM_LISTS } from './loomLists.ts';
import { LIMITS } from './limits.ts';
import type { LoomRevision } from './loom.ts';

/**
 * Checks of references run beside those of shape, so that all faults are told at once. They walk lists of things with the
 * fields that they read; a document with other faults is brought into that form first. What cannot be read stands there
 * as nothing, at the place that it has. A list that cannot be read whole is unsure: a name that is not in it may be there.
 */
type Fields = Record<string, unknown>;

export function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A value in which references can be followed, and the lists of it of which not all could be read. */
export interface Sound<T> {
  value: T;
  unsure: ReadonlySet<string>;
}

/** Lists whose things are named by an id. */
const WITH_IDS: readonly string[] = ['points', 'branches', 'wires', 'cables', 'coverings'];

const list = (value: unknown): unknown[] => (Array.isArray(value) ? (value as unknown[]) : []);
const things = (value: unknown): Fields[] => list(value).map((item) => (isFields(item) ? item : {}));
/** A field that is none or a list; one that is something else is an empty list: it was stated. */
const codes = (value: unknown) => (value === undefined ? undefined : list(value));
const fieldsOrNone = (value: unknown) => (isFields(value) ? value : undefined);

/** Whether a list is none, or one of things that all can be told apart by this field. */
function isSure(value: unknown, key: string | undefined): boolean {
  if (value === undefined) return true;
  return (
    Array.isArray(value) &&
    value.every((item) => isFields(item) && (key === undefined || typeof item[key] === 'string'))
  );
}

function unsureIn(value: Fields, keys: Readonly<Record<string, string | undefined>>): Set<string> {
  return new Set(Object.entries(keys).flatMap(([name, key]) => (isSure(value[name], key) ? [] : [name])));
}

function soundEnd(value: unknown): Fields {
  if (!isFields(value)) return {};
  return {
    ...value,
    ...Object.fromEntries(
      ['terminal', 'seal', 'cover', 'label'].map((use) => [use, fieldsOrNone(value[use])]),
    ),
  };
}

/** What each thing of a list must have beside being one. */
const THING: Partial<Record<(typeof LOOM_LISTS)[number], (item: Fields) => Fields>> = {
  points: (point) => ({ matedTo: fieldsOrNone(point['matedTo']) }),
  wires: (wire) => ({
    from: soundEnd(wire['from']),
    to: soundEnd(wire['to']),
    via: codes(wire['via']),
  }),
  cables: (cable) => ({ via: codes(cable['via']) }),
  // Of one that is nothing it is not said that it has no length.
  coverings: (covering) => ({
    over: Object.keys(covering).length === 0 ? [] : codes(covering['over']),
  }),
};

const LOOM_KEYS = Object.fromEntries(
  LOOM_LISTS.map((name) => [name, WITH_IDS.includes(name) ? 'id' : undefined]),
);

/** A loom in which references can be followed; undefined of what is no object at all. */
export function soundLoom(value: unknown): Sound<LoomRevision> | undefined {
  if (!isFields(value)) return undefined;
  const { options } = value;
  const unsure = unsureIn(value, LOOM_KEYS);
  if (options !== undefined && !Array.isArray(options)) unsure.add('options');
  const lists = LOOM_LISTS.map((name) => [
    name,
    things(value[name]).map((item) => ({
      ...item,
      ...(item['options'] === undefined ? {} : { options: list(item['options']) }),
      ...THING[name]?.(item),
    })),
  ]);
  const sound: unknown = { ...value, options: codes(options), ...Object.fromEntries(lists) };
  return { value: sound as LoomRevision, unsure };
}

/** An offer of which the parts can be read. */
export function soundOffer(offer: Fields): Fields {
  return offer['form'] === 'kit' ? { ...offer, contents: things(offer['contents']) } : offer;
}

/** Where a wave, or its line, cannot be read, nothing can be told of gaps between waves. */
function waveIn(line: Fields): unknown {
  const { wave } = line;
  if (wave === undefined) return Object.keys(line).length === 0 ? NaN : undefined;
  return Number.isInteger(wave) && Number(wave) >= 1 && Number(wave) <= LIMITS.waves ? wave : NaN;
}

/** A request in which names can be followed. */
export function soundRequest<T>(value: unknown): T {
  const request = isFields(value) ? value : {};
  const looms = things(request['looms']).map((line) => ({
    ...line,
    options: codes(line['options'])?.filter((option) => typeof option === 'string'),
    wave: waveIn(line),
  }));
  const sound: unknown = {
    ...request,
    looms,
    shutOut: codes(request['shutOut']),
    insistOn: codes(request['insistOn']),
    ...(request['pinned'] === undefined ? {} : { pinned: things(request['pinned']) }),
    ...(request['buildOrBuy'] === undefined ? {} : { buildOrBuy: soundBuildOrBuy(request['buildOrBuy']) }),
  };
  return sound as T;
}

/** What is asked about building or buying, in which names can be followed. */
export function soundBuildOrBuy(value: unknown): Fields {
  const asked = isFields(value) ? value : {};
  return { ...asked, extras: things(asked['extras']), tools: things(asked['tools']) };
}

const JOB_KEYS = {
  parts: 'code',
  suppliers: 'code',
  offers: 'code',
  looms: 'code',
  fits: undefined,
  rates: undefined,
  lanes: undefined,
  stock: undefined,
};

/** A job in which the references between its lists can be followed. */
export function soundJob<T>(value: unknown): Sound<T> {
  const job = isFields(value) ? value : {};
  const lists = Object.fromEntries(Object.keys(JOB_KEYS).map((name) => [name, things(job[name])]));
  const sound: unknown = {
    ...job,
    ...lists,
    club: fieldsOrNone(job['club']) ?? {},
    offers: things(job['offers']).map(soundOffer),
    looms: things(job['looms']).map((loom) => soundLoom(loom)?.value),
    request: soundRequest(job['request']),
  };
  return { value: sound as T, unsure: unsureIn(job, JOB_KEYS) };
}
