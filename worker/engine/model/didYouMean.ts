import { byCode } from './code.ts';
import type { Finding } from './finding.ts';
import { editDistance } from './nearest.ts';

/** How many codes are named at most. */
const NAMED = 3;
/** How many pairs of codes are compared for one document at most, about a second of work; the first unknown code always is. */
const COMPARED = 100_000;

/**
 * The codes that can be meant by one that there is not, at most three: first those that begin with what was typed, the shortest
 * before all; then those of which no more than a quarter of the characters, or two, is written otherwise.
 */
export function codesMeant(typed: string, codes: Iterable<string>): string[] {
  const wanted = typed.toLowerCase();
  const slips = Math.max(2, Math.floor(wanted.length / 4));
  const near: { code: string; begins: boolean; apart: number }[] = [];
  for (const code of codes) {
    const other = code.toLowerCase();
    const begins = wanted.length > 2 && other.startsWith(wanted);
    if (!begins && Math.abs(other.length - wanted.length) > slips) continue;
    const apart = begins ? other.length - wanted.length : editDistance(wanted, other);
    if (begins || (apart <= slips && apart < wanted.length)) near.push({ code, begins, apart });
  }
  near.sort((a, b) => Number(b.begins) - Number(a.begins) || a.apart - b.apart || byCode(a.code, b.code));
  return near.slice(0, NAMED).map(({ code }) => code);
}

/** The question that follows a sentence about an unknown code; empty where no code is near. */
export function didYouMean(codes: readonly string[]): string {
  const [first = '', ...others] = codes;
  if (codes.length === 0) return '';
  const last = others.pop();
  return ` Did you mean ${[first, ...others].join(', ')}${last === undefined ? '' : ` or ${last}`}?`;
}

/** These findings, of which those of an unknown part name the codes that can be meant. `parts` is read where there is one. */
export function withPartsMeant(findings: readonly Finding[], parts: () => Iterable<string>): Finding[] {
  const meant = new Map<string, string>();
  let codes: readonly string[] | undefined;
  return findings.map((finding) => {
    const typed = finding.code === 'unknown-part' ? /^"(.+)"$/.exec(finding.found)?.[1] : undefined;
    if (typed === undefined) return finding;
    codes ??= [...parts()];
    if (!meant.has(typed) && (meant.size === 0 || (meant.size + 1) * codes.length <= COMPARED))
      meant.set(typed, didYouMean(codesMeant(typed, codes)));
    return { ...finding, todo: finding.todo + (meant.get(typed) ?? '') };
  });
}

/** The codes of parts as they stand in a document that may have faults. */
export function partCodesIn(document: unknown): string[] {
  const { parts } = (document ?? {}) as { parts?: unknown };
  return (Array.isArray(parts) ? (parts as unknown[]) : []).flatMap((part) => {
    const { code } = (part ?? {}) as { code?: unknown };
    return typeof code === 'string' ? [code] : [];
  });
}
