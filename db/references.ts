import { and, eq, inArray } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
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

/** A finding for every name that the club does not have. */
export async function unknownNames(ctx: Ctx, word: Word, named: Named[]): Promise<Finding[]> {
  const table = TABLES[word];
  const codes = [...new Set(named.map((item) => item.code))];
  const known = new Set<string>();
  for (let start = 0; start < codes.length; start += CHUNK) {
    const rows = await ctx.tx
      .select({ code: table.code })
      .from(table)
      .where(and(eq(table.clubId, ctx.club), inArray(table.code, codes.slice(start, start + CHUNK))));
    for (const row of rows) known.add(row.code);
  }
  return named.filter((item) => !known.has(item.code)).map((item) => unknown(word, item));
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
