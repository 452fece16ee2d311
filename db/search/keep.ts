import { and, eq, inArray, sql } from 'drizzle-orm';
import type { Offer } from '../../worker/engine/model/offer.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import type { Change } from '../bulk.ts';
import type { Ctx } from '../club.ts';
import { insertMany } from '../insertMany.ts';
import { partNumbers, searchPieces, searchThings, searchWords } from '../schema/index.ts';
import { isLetters, lettersAndDigits, withoutOne } from './fold.ts';
import { facetsOfPart, wordsOfOffer, wordsOfPart, type Facets, type Word } from './words.ts';
import { SHORTEST_PART } from './units.ts';

export type Thing = 'part' | 'offer';

/** A thing with all that it is found and counted by. */
interface Found {
  code: string;
  words: Word[];
  facets: Facets;
}

const foundPart = (part: Part): Found => ({
  code: part.code,
  words: wordsOfPart(part),
  facets: facetsOfPart(part),
});

const foundOffer = (offer: Offer): Found => ({
  code: offer.code,
  words: wordsOfOffer(offer),
  facets: { kind: null, size: null, colour: null, supplier: offer.supplier },
});

/** Keep the words of parts and of offers, after these were written. */
export const keepPartWords = keeping('part', foundPart);
export const keepOfferWords = keeping('offer', foundOffer);

function keeping<B>(thing: Thing, foundOf: (body: B) => Found) {
  return async (ctx: Ctx, changes: readonly Change<B>[]): Promise<void> => {
    const others = changes.flatMap(({ body, before }) => {
      const now = foundOf(body);
      // A price seldom changes a word.
      const isSame = before !== undefined && JSON.stringify(foundOf(before)) === JSON.stringify(now);
      return isSame ? [] : [{ now, isNew: before === undefined }];
    });
    await dropWords(
      thing,
      ctx,
      others.filter(({ isNew }) => !isNew).map(({ now }) => now.code),
    );
    await addWords(
      ctx,
      thing,
      others.map(({ now }) => now),
    );
  };
}

async function addWords(ctx: Ctx, thing: Thing, found: readonly Found[]): Promise<void> {
  const { club: clubId } = ctx;
  const rows = found.flatMap(({ code, words }) =>
    words.map(({ word, field, weight }) => ({ clubId, thing, code, word, field, weight })),
  );
  await insertMany(ctx, searchWords, rows, sql`on conflict do nothing`);
  await insertMany(
    ctx,
    searchThings,
    found.map(({ code, facets }) => ({ clubId, thing, code, ...facets })),
    sql`on conflict do nothing`,
  );
  const letters = [...new Set(rows.map(({ word }) => word))].filter(isPieced).sort();
  await insertMany(
    ctx,
    searchPieces,
    letters.flatMap((word) => piecesOf(word).map((piece) => ({ clubId, ...piece, word }))),
    sql`on conflict do nothing`,
  );
}

const isPieced = (word: string) => isLetters(word) && word.length >= SHORTEST_PART;

/** A word that is asked for is an end's beginning, or leaves the same as a kept one where a letter is left out. */
function piecesOf(word: string): { how: 'end' | 'slip'; piece: string }[] {
  const ends = [...word].map((_, at) => word.slice(at)).filter((end) => end.length >= SHORTEST_PART);
  return [
    ...ends.map((piece) => ({ how: 'end' as const, piece })),
    ...[word, ...withoutOne(word)].map((piece) => ({ how: 'slip' as const, piece })),
  ];
}

async function dropWords(thing: Thing, ctx: Ctx, codes: readonly string[]): Promise<void> {
  if (codes.length === 0) return;
  for (const table of [searchWords, searchThings])
    await ctx.tx
      .delete(table)
      .where(and(eq(table.clubId, ctx.club), eq(table.thing, thing), inArray(table.code, [...codes])));
}

/** Take the words of things away, before they are removed. */
export const dropPartWords = (ctx: Ctx, codes: readonly string[]) => dropWords('part', ctx, codes);
export const dropOfferWords = (ctx: Ctx, codes: readonly string[]) => dropWords('offer', ctx, codes);

/** Keeps the numbers under which others have parts. */
export async function keepNumbers(ctx: Ctx, changes: readonly Change<Part>[]): Promise<void> {
  const others = changes.filter(({ body, before }) => numbersText(body) !== numbersText(before));
  const changed = others.flatMap(({ body, before }) => (before === undefined ? [] : [body.code]));
  await dropNumbers(ctx, changed);
  const rows = others.flatMap(({ body }) =>
    numbersOf(body).map(({ whose, number }) => ({
      clubId: ctx.club,
      partCode: body.code,
      whose,
      number,
      whoseFolded: lettersAndDigits(whose),
      folded: lettersAndDigits(number),
    })),
  );
  // One number may be written in two ways.
  await insertMany(
    ctx,
    partNumbers,
    rows.filter(({ folded }) => folded !== ''),
    sql`on conflict do nothing`,
  );
}

/** Takes the numbers of parts away. */
export async function dropNumbers(ctx: Ctx, codes: readonly string[]): Promise<void> {
  if (codes.length === 0) return;
  await ctx.tx
    .delete(partNumbers)
    .where(and(eq(partNumbers.clubId, ctx.club), inArray(partNumbers.partCode, [...codes])));
}

/** The maker's own number is one of them. */
function numbersOf({ maker = '', makerCode, numbers = [] }: Part): { whose: string; number: string }[] {
  return [...numbers, ...(makerCode === undefined ? [] : [{ whose: maker, number: makerCode }])];
}

const numbersText = (part: Part | undefined) => JSON.stringify(part ? numbersOf(part) : []);
