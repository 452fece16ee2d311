import { and, eq, inArray } from 'drizzle-orm';
import { addTo } from '../worker/engine/model/group.ts';
import type { Heirs } from '../worker/engine/model/renamedParts.ts';
import type { Ctx } from './club.ts';
import { heirsOf } from './heirs.ts';
import { partNumbers, parts } from './schema/index.ts';
import { lettersAndDigits, LONGEST_WORD } from './search/fold.ts';

/** Names that are looked up at once. */
const CHUNK = 5_000;

/** The parts that have each of these numbers, by code; nothing of those that no part has. Merged parts are their heirs. */
export async function partsOfNumbers(ctx: Ctx, numbers: readonly string[]): Promise<Map<string, string[]>> {
  const found = new Map<string, string[]>();
  const asked = new Map<string, string[]>();
  for (const number of new Set(numbers)) {
    const folded = lettersAndDigits(number);
    // What was cut may be of another number.
    if (folded.length > 0 && folded.length < LONGEST_WORD) addTo(asked, folded, number);
  }
  if (asked.size === 0) return found;
  const heirs = await heirsOf({ ctx });
  const all = [...asked.keys()];
  for (let start = 0; start < all.length; start += CHUNK) {
    const rows = await ctx.tx
      .selectDistinct({ folded: partNumbers.folded, part: partNumbers.partCode })
      .from(partNumbers)
      .where(
        and(eq(partNumbers.clubId, ctx.club), inArray(partNumbers.folded, all.slice(start, start + CHUNK))),
      )
      .orderBy(partNumbers.partCode);
    for (const { folded, part } of rows)
      for (const number of asked.get(folded) ?? []) {
        const heir = heirs.get(part) ?? part;
        if (!found.get(number)?.includes(heir)) addTo(found, number, heir);
      }
  }
  return found;
}

/**
 * Which part is meant by each of these names that is not its code: the heir of a merged part, or the one part that has it as a
 * number. A name that is a code is never taken for a number.
 */
export async function partsMeant({ ctx, input }: { ctx: Ctx; input: readonly string[] }): Promise<Heirs> {
  const heirs = await heirsOf({ ctx });
  const names = [...new Set(input)];
  const codes = new Set<string>();
  for (let start = 0; start < names.length; start += CHUNK) {
    const rows = await ctx.tx
      .select({ code: parts.code })
      .from(parts)
      .where(and(eq(parts.clubId, ctx.club), inArray(parts.code, names.slice(start, start + CHUNK))));
    for (const { code } of rows) codes.add(code);
  }
  const ofNumbers = await partsOfNumbers(
    ctx,
    names.filter((name) => !codes.has(name)),
  );
  const only = [...ofNumbers].flatMap(([number, [part, ...others]]) =>
    part === undefined || others.length > 0 ? [] : [[number, part] as const],
  );
  return new Map([...heirs, ...only]);
}
