import type { Finding } from './finding.ts';

/** Enough to fix a document by: faults are gathered up to this many, and what is more is counted as far as that is cheap. */
export const MOST_FINDINGS = 200;

/** In characters of JSON, all findings of one answer together, and one text of a finding. */
const MOST_CHARACTERS = 150_000;
const LONGEST_TEXT = 1_000;

/** What is said in the place of faults that are not told. `more`: how many they are; undefined where nobody counted. */
export function tooManyFaults(more?: number): Finding {
  return {
    code: 'too-many-faults',
    severity: 'stop',
    at: '',
    where: 'the whole document',
    found: more === undefined ? 'and more' : `and ${more.toLocaleString('en-GB')} more`,
    todo: 'There are too many faults to list. Fix the ones that are listed and send it again.',
  };
}

/** The first faults, with a word on those that are not told. */
export function withMore(findings: Finding[], more: number): Finding[] {
  return more > 0 ? [...findings, tooManyFaults(more)] : findings;
}

const isMore = ({ code }: Finding) => code === 'too-many-faults';

/** Findings as they are answered with: so few and so short that an answer stays small, whatever was sent. */
export function fewFindings(all: readonly Finding[]): Finding[] {
  const told = all.filter((finding) => !isMore(finding));
  const kept: Finding[] = [];
  let room = MOST_CHARACTERS;
  for (const finding of told.slice(0, MOST_FINDINGS)) {
    const short = shortened(finding);
    room -= JSON.stringify(short).length;
    if (room < 0) break;
    kept.push(short);
  }
  const left = told.length - kept.length;
  const unlisted = all.filter(isMore);
  if (left === 0) return [...kept, ...unlisted.slice(0, 1)];
  // Nobody knows how many those are that were not listed before.
  return [...kept, unlisted.length > 0 ? tooManyFaults() : tooManyFaults(left)];
}

function shortened(finding: Finding): Finding {
  const entries = Object.entries(finding) as [keyof Finding, string | undefined][];
  if (entries.every(([, text = '']) => text.length <= LONGEST_TEXT)) return finding;
  const cut = (text = '') =>
    text.length > LONGEST_TEXT ? `${text.slice(0, LONGEST_TEXT - 1).toWellFormed()}…` : text;
  const texts = Object.fromEntries(entries.map(([field, text]) => [field, cut(text)]));
  // Half of a pointer leads nowhere: it leads to what holds the place.
  return { ...finding, ...texts, at: finding.at.length > LONGEST_TEXT ? nearer(finding.at) : finding.at };
}

/** The pointer to what holds the place, as near as can be told. */
function nearer(at: string): string {
  const end = at.lastIndexOf('/', LONGEST_TEXT);
  return end <= 0 ? '' : at.slice(0, end);
}
