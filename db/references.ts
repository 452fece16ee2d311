import { and, asc, desc, eq, gt, inArray, lt } from 'drizzle-orm';
import { codesMeant, didYouMean } from '../worker/engine/model/didYouMean.ts';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { addTo } from '../worker/engine/model/group.ts';
import { MOST_FINDINGS, tooManyFaults, withMore } from '../worker/engine/model/mostFindings.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { partsOfNumbers } from './partsOfNumbers.ts';
import { looms, offers, parts, suppliers } from './schema/index.ts';

export interface Named {
  code: string;
  path: PropertyKey[];
}

/** Names that are looked up at once. */
const CHUNK = 5_000;

const TABLES = { part: parts, supplier: suppliers, offer: offers, loom: looms };

export type Word = keyof typeof TABLES;

/** Throws Invalid with a finding for every name that the club does not have. */
export async function requireKnown(ctx: Ctx, word: Word, named: Named[]): Promise<void> {
  const findings = await unknownNames(ctx, word, named);
  if (findings.length > 0) throw new Invalid(findings);
}

/** What an entry names that must be there. */
export interface Names {
  word: Word;
  named: Named[];
}

/** Finding by finding for each of these entries, by its key, that names what the club does not have: one look a kind of name. */
export async function unknownByEntry(
  ctx: Ctx,
  entries: readonly { key: string; names: readonly Names[] }[],
): Promise<Map<string, Finding[]>> {
  const found = new Map<string, Finding[]>();
  for (const word of new Set(entries.flatMap(({ names }) => names.map((each) => each.word)))) {
    const named = entries.flatMap(({ key, names }) =>
      names.filter((each) => each.word === word).flatMap((each) => each.named.map((item) => ({ key, item }))),
    );
    const { missing } = await missingOf(ctx, word, named, ({ item }) => item.code, Infinity);
    const meant = await meantBy(
      ctx,
      word,
      missing.map(({ item }) => item.code),
    );
    for (const { key, item } of missing)
      if ((found.get(key)?.length ?? 0) < MOST_FINDINGS) addTo(found, key, unknown(word, item, meant));
  }
  return found;
}

/**
 * A finding for every name that the club does not have; of many the first, and how many more. Once there are enough of them
 * no further names are looked up.
 */
export async function unknownNames(ctx: Ctx, word: Word, named: Named[]): Promise<Finding[]> {
  const { missing, rest } = await missingOf(ctx, word, named, ({ code }) => code, MOST_FINDINGS);
  const told = missing.slice(0, MOST_FINDINGS);
  const meant = await meantBy(
    ctx,
    word,
    told.map(({ code }) => code),
  );
  const findings = told.map((item) => unknown(word, item, meant));
  return rest ? [...findings, tooManyFaults()] : withMore(findings, missing.length - told.length);
}

/** Those that the club does not have, until there are `enough`; `rest`: whether some were not looked at. */
async function missingOf<T>(
  ctx: Ctx,
  word: Word,
  named: readonly T[],
  codeOf: (item: T) => string,
  enough: number,
): Promise<{ missing: T[]; rest: boolean }> {
  const looked = new Map<string, boolean>();
  const missing: T[] = [];
  let next = 0;
  while (next < named.length && missing.length <= enough) {
    const codes = new Set<string>();
    let end = next;
    for (let item = named[end]; item !== undefined && codes.size < CHUNK; item = named[++end])
      if (!looked.has(codeOf(item))) codes.add(codeOf(item));
    const known = await knownCodes(ctx, word, [...codes]);
    for (const code of codes) looked.set(code, known.has(code));
    for (; next < end; next++) {
      const item = named[next];
      if (item !== undefined && looked.get(codeOf(item)) === false) missing.push(item);
    }
  }
  return { missing, rest: next < named.length };
}

/** How many unknown codes are looked at, and how many neighbours of each on either side. */
const LOOKED_AT = 20;
const NEIGHBOURS = 50;

/**
 * What may be meant by codes of parts that the club does not have. Only neighbours in the order of codes are looked at, which
 * the index has at hand; a code that is spelled otherwise from its first characters on is not found.
 */
async function meantBy(ctx: Ctx, word: Word, codes: readonly string[]): Promise<Map<string, string>> {
  const meant = new Map<string, string>();
  if (word !== 'part') return meant;
  const { clubId, code } = parts;
  for (const [number, having] of await partsOfNumbers(ctx, codes))
    meant.set(number, numberOf(number, having));
  const others = [...new Set(codes)].filter((typed) => !meant.has(typed));
  for (const typed of others.slice(0, LOOKED_AT)) {
    const side = (within: typeof lt, order: typeof asc) =>
      ctx.tx
        .select({ code })
        .from(parts)
        .where(and(eq(clubId, ctx.club), within(code, typed)))
        .orderBy(order(code))
        .limit(NEIGHBOURS);
    const near = [...(await side(lt, desc)), ...(await side(gt, asc))];
    meant.set(
      typed,
      `${nothingOf(word, typed)}${didYouMean(
        codesMeant(
          typed,
          near.map((row) => row.code),
        ),
      )}`,
    );
  }
  return meant;
}

async function knownCodes(ctx: Ctx, word: Word, codes: readonly string[]): Promise<Set<string>> {
  if (codes.length === 0) return new Set();
  const table = TABLES[word];
  const rows = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.code, [...codes])));
  return new Set(rows.map(({ code }) => code));
}

const nothingOf = (word: string, code: string) =>
  `There is no ${word} ${code}. Add it first, or name another one.`;

/** So many parts of one number are told. */
const MOST_TOLD = 5;

/** What to do about a number that stands where a code does. */
function numberOf(number: string, having: readonly string[]): string {
  const [only = '', ...others] = having;
  if (others.length === 0) return `There is no part ${number}, but ${only} has this number. Name ${only}.`;
  const more = having.length - MOST_TOLD;
  const told = [...having.slice(0, MOST_TOLD), ...(more > 0 ? [`${more} more`] : [])];
  return `The number ${number} is that of ${told.slice(0, -1).join(', ')} and ${told.at(-1) ?? ''}. Name one of them.`;
}

function unknown(word: string, { code, path }: Named, meant: ReadonlyMap<string, string>): Finding {
  return {
    code: `unknown-${word}`,
    severity: 'stop',
    at: pointer(path),
    where: path.map((key) => (typeof key === 'number' ? `number ${key + 1}` : String(key))).join(', '),
    found: JSON.stringify(code),
    todo: meant.get(code) ?? nothingOf(word, code),
  };
}
