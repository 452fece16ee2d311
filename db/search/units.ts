import { cut, decimalWord, isLetters, isOneSlip, lettersAndDigits, plainWords } from './fold.ts';
import { colourWord, coloursMeant, sizeAt, sizeWord } from './notations.ts';
import type { Word } from './words.ts';

/** How a word that was asked for met a word that is kept. */
export const HOWS = ['exact', 'size', 'colour', 'synonym', 'part of a word', 'one slip'] as const;
export type How = (typeof HOWS)[number];

/** One thing asked for: it is met by any of its words, or by what they are a part of, or a slip from. */
export interface Unit {
  /** As it was asked. */
  said: string;
  /** Taken whole, by a part, or with a slip. */
  word: string | undefined;
  /** Taken whole alone: each with how. */
  whole: ReadonlyMap<string, How>;
}

/** Words that the club takes for each other, by each word. */
export type Synonyms = ReadonlyMap<string, readonly string[]>;

/** What of ten each way of meeting counts; a word within another counts less than at its start. */
const FACTORS: Readonly<Record<How, number>> = {
  exact: 10,
  size: 10,
  colour: 10,
  synonym: 8,
  'part of a word': 5,
  'one slip': 3,
};

export const SHORTEST_PART = 3;
const SHORTEST_SLIP = 4;

/** How a kept word meets a unit, the best way of all. */
export function howMet({ word, whole }: Unit, kept: string): How | undefined {
  if (kept === word) return 'exact';
  const how = whole.get(kept);
  if (how !== undefined || word === undefined || kept.startsWith(':')) return how;
  if (word.length >= SHORTEST_PART) {
    if (kept.startsWith(word)) return 'part of a word';
    if (isLetters(word) && isLetters(kept) && kept.includes(word)) return 'part of a word';
  }
  return takesSlips(word) && isLetters(kept) && isOneSlip(word, kept) ? 'one slip' : undefined;
}

/** Figures are taken as they stand: a slip in a number is another number. */
export const takesSlips = (word: string) => word.length >= SHORTEST_SLIP && isLetters(word);

export const FACTOR_OF_A_PART = FACTORS['part of a word'];
export const factorOf = (how: How) => FACTORS[how];

/** Which word met a unit best, and how. */
export interface Met extends Word {
  said: string;
  how: How;
  score: number;
}

/** What met each unit best; undefined where one is not met. Of equals the first by its word is told. */
export function metBy(units: readonly Unit[], words: readonly Word[]): Met[] | undefined {
  const met: Met[] = [];
  for (const unit of units) {
    let best: Met | undefined;
    for (const word of words) {
      const how = howMet(unit, word.word);
      const score = how === undefined ? 0 : word.weight * factorOf(how);
      if (how !== undefined && score > (best?.score ?? 0)) best = { ...word, said: unit.said, how, score };
    }
    if (!best) return undefined;
    met.push(best);
  }
  return met;
}

/** Units must all be met. A text may be taken in two ways: its words one by one, or its figures as one number. */
export type Readings = readonly (readonly Unit[])[];

export function readingsOf(text: string, synonyms: Synonyms): Readings {
  const raw = text.split(/\s+/).filter((word) => lettersAndDigits(word) !== '');
  const apart = oneByOne(raw, synonyms);
  const joined = asNumbers(raw).flatMap((word) =>
    decimalWord(word) === undefined
      ? [unit(word, lettersAndDigits(word), synonyms)]
      : oneByOne([word], synonyms),
  );
  const keys = (units: readonly Unit[]) => units.map(({ word }) => word).join(' ');
  return keys(apart) === keys(joined) ? [apart] : [apart, joined];
}

function oneByOne(raw: readonly string[], synonyms: Synonyms): Unit[] {
  const units: Unit[] = [];
  for (let at = 0; at < raw.length; at++) {
    const word = raw[at] ?? '';
    const size = sizeAt(raw.slice(at));
    if (size) {
      const said = raw.slice(at, at + size.taken).join(' ');
      units.push(sizeUnit(said, size, synonyms));
      at += size.taken - 1;
      continue;
    }
    const colour = coloursMeant(word);
    if ('labels' in colour) units.push(colourUnit(word, colour.labels, synonyms));
    else for (const each of plainWords(word)) units.push(unit(each, each, synonyms));
  }
  return units;
}

/** "1.5" is no 15, but "8.113" may be a number that others write with a dash. */
const FIGURES_OF_A_NUMBER = 4;

function sizeUnit(
  said: string,
  { labels, taken }: { labels: string[]; taken: number },
  synonyms: Synonyms,
): Unit {
  const sizes = new Map<string, How>(labels.map((label) => [sizeWord(label), 'size']));
  if (taken > 1) return { said, word: undefined, whole: sizes };
  const decimal = decimalWord(said);
  const plain = lettersAndDigits(said);
  if (decimal === undefined) return withWhole(unit(said, plain, synonyms), sizes);
  return {
    said,
    word: plain.length >= FIGURES_OF_A_NUMBER ? plain : undefined,
    whole: new Map([...sizes, [decimal, 'exact']]),
  };
}

function colourUnit(said: string, labels: readonly string[], synonyms: Synonyms): Unit {
  const colours = new Map<string, How>(labels.map((label) => [colourWord(label), 'colour']));
  if (/[^\p{L}]/u.test(said)) return { said, word: undefined, whole: colours };
  // A single shade stands among the words of every colour that has it.
  return withWhole(unit(said, lettersAndDigits(said), synonyms), colours);
}

function unit(said: string, word: string, synonyms: Synonyms): Unit {
  return {
    said,
    word: cut(word),
    whole: new Map((synonyms.get(word) ?? []).map((each) => [each, 'synonym'])),
  };
}

const withWhole = (one: Unit, more: ReadonlyMap<string, How>): Unit => ({
  ...one,
  whole: new Map([...one.whole, ...more]),
});

/** Words one after the other that have figures are put together: "20 41 77-33" is one. */
function asNumbers(raw: readonly string[]): string[] {
  const joined: string[] = [];
  let isRunning = false;
  for (const word of raw) {
    const hasDigit = /\d/.test(word);
    if (hasDigit && isRunning) joined.push(`${joined.pop() ?? ''} ${word}`);
    else joined.push(word);
    isRunning = hasDigit;
  }
  return joined;
}

/** A size or a colour that was asked for by itself. */
export const asked = (said: string, labels: readonly string[], how: 'size' | 'colour'): Unit => ({
  said,
  word: undefined,
  whole: new Map(labels.map((label) => [(how === 'size' ? sizeWord : colourWord)(label), how])),
});
