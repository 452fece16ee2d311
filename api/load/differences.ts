import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { printable } from '../../worker/sheets/textTable.ts';

/** One field in which two documents differ: where, and the two values, in words. */
export interface Difference {
  where: string;
  stored: string;
  given: string;
}

type Fields = Record<string, unknown>;

/** Field by field, in what a stored entry and that of a file differ; things in lists are matched by the names they have. */
export function differencesOf(stored: unknown, given: unknown): Difference[] {
  return compare(stored, given, []);
}

function compare(stored: unknown, given: unknown, path: readonly string[]): Difference[] {
  if (canonicalJson({ value: stored }) === canonicalJson({ value: given })) return [];
  if (Array.isArray(stored) && Array.isArray(given)) return compareLists(stored, given, path);
  if (isFields(stored) && isFields(given) && !isAmount(stored) && !isAmount(given))
    return [...new Set([...Object.keys(given), ...Object.keys(stored)])].flatMap((field) =>
      compare(stored[field], given[field], [...path, field]),
    );
  return [{ where: path.join(', ') || 'the whole', stored: shown(stored), given: shown(given) }];
}

function compareLists(stored: unknown[], given: unknown[], path: readonly string[]): Difference[] {
  const [ours, theirs] = [stored, given].map(byName);
  const [before, list = 'entry'] = [path.slice(0, -1), path.at(-1)];
  if (!ours || !theirs)
    // Plain values, or things without a name of their own, which can only be told by their places.
    return [...stored, ...given].every(isFields)
      ? Array.from({ length: Math.max(stored.length, given.length) }, (_, at) =>
          compare(stored[at], given[at], [...before, `${singular(list)} number ${at + 1}`]),
        ).flat()
      : [{ where: path.join(', '), stored: shown(stored), given: shown(given) }];
  const found = [...new Set([...theirs.keys(), ...ours.keys()])].flatMap((name) =>
    compare(ours.get(name), theirs.get(name), [...before, `${singular(list)} ${name}`]),
  );
  const order = (names: Map<string, unknown>) => [...names.keys()].join(', ');
  return found.length > 0
    ? found
    : [{ where: `${path.join(', ')}, their order`, stored: clip(order(ours)), given: clip(order(theirs)) }];
}

/** The things of a list by the names they have, or undefined where some have none or two have the same. */
function byName(list: readonly unknown[]): Map<string, unknown> | undefined {
  for (const field of ['id', 'code', 'part']) {
    const names = list.map((item) => (isFields(item) ? item[field] : undefined));
    if (names.every((name) => typeof name === 'string') && new Set(names).size === names.length)
      return new Map(list.map((item, at) => [names[at] as string, item]));
  }
  return undefined;
}

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const isAmount = (value: Fields): value is { amount: string; currency: string } =>
  typeof value['amount'] === 'string' && typeof value['currency'] === 'string';

function singular(list: string): string {
  return list.replace(/(ch|s)es$/, '$1').replace(/(?<!s)s$/, '');
}

function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (isFields(value) && isAmount(value)) return `${value.amount} ${value.currency}`;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value) && value.length === 0) return 'nothing in it';
  if (Array.isArray(value) && !value.some((item) => typeof item === 'object'))
    return clip(value.map(shown).join(', '));
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (isFields(value))
    return clip(
      Object.entries(value)
        .map(([field, inner]) => `${field} ${shown(inner)}`)
        .join(', '),
    );
  return typeof value === 'string' ? `“${clip(value)}”` : JSON.stringify(value);
}

const LONGEST = 100;

function clip(text: string): string {
  const plain = printable(text);
  return plain.length > LONGEST ? `${plain.slice(0, LONGEST - 1)}…` : plain;
}
