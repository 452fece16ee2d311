import { and, eq, inArray } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { addTo } from '../worker/engine/model/group.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { looms, offers, parts, suppliers } from './schema/index.ts';

export interface Named {
  code: string;
  path: PropertyKey[];
}

const CHUNK = 10_000;

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
    const known = await knownCodes(
      ctx,
      word,
      named.map(({ item }) => item.code),
    );
    for (const { key, item } of named) if (!known.has(item.code)) addTo(found, key, unknown(word, item));
  }
  return found;
}

/** A finding for every name that the club does not have. */
export async function unknownNames(ctx: Ctx, word: Word, named: Named[]): Promise<Finding[]> {
  const known = await knownCodes(
    ctx,
    word,
    named.map((item) => item.code),
  );
  return named.filter((item) => !known.has(item.code)).map((item) => unknown(word, item));
}

async function knownCodes(ctx: Ctx, word: Word, named: readonly string[]): Promise<Set<string>> {
  const table = TABLES[word];
  const codes = [...new Set(named)];
  const known = new Set<string>();
  for (let start = 0; start < codes.length; start += CHUNK) {
    const rows = await ctx.tx
      .select({ code: table.code })
      .from(table)
      .where(and(eq(table.clubId, ctx.club), inArray(table.code, codes.slice(start, start + CHUNK))));
    for (const row of rows) known.add(row.code);
  }
  return known;
}

function unknown(word: string, { code, path }: Named): Finding {
  return {
    code: `unknown-${word}`,
    severity: 'stop',
    at: pointer(path),
    where: path.map((key) => (typeof key === 'number' ? `number ${key + 1}` : String(key))).join(', '),
    found: JSON.stringify(code),
    todo: `There is no ${word} ${code}. Add it first, or name another one.`,
  };
}
