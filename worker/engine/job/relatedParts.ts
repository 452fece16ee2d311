import type { JobLoom } from '../model/job.ts';
import { addTo } from '../model/group.ts';
import type { Fit } from '../model/fit.ts';
import { loomsFor, type Part } from '../model/part.ts';

/**
 * Parts of a catalogue that hang together with those that are wanted, by code: what may stand in for them, what mates
 * with them, the tools of their families, made-up looms in place of the looms asked for.
 */
export function relatedParts(
  parts: readonly Part[],
  wanted: ReadonlySet<string>,
  looms: readonly JobLoom[],
  fits: readonly Fit[],
): string[] {
  const ofWanted = parts.filter(({ code }) => wanted.has(code));
  const mates = new Set(ofWanted.flatMap((part) => (part.kind === 'housing' ? (part.mates ?? []) : [])));
  const standInsFor = standInsOf(parts);
  const standIns = new Set([...wanted].flatMap(standInsFor));
  for (const { from, relation, to } of fits) {
    if (relation === 'mates' && wanted.has(from)) mates.add(to);
    if (relation === 'mates' && wanted.has(to)) mates.add(from);
    if (relation === 'standsInFor' && wanted.has(to)) standIns.add(from);
  }
  const ofStandIns = parts.filter(({ code }) => standIns.has(code));
  const families = new Set([...ofWanted, ...ofStandIns].flatMap(({ family }) => family ?? []));
  const asked = new Set(looms.map(({ code }) => code));
  return parts
    .filter(
      (part) =>
        mates.has(part.code) ||
        standIns.has(part.code) ||
        (part.kind === 'tool' && (part.worksFamilies ?? []).some((family) => families.has(family))) ||
        (part.kind === 'madeUpLoom' && loomsFor(part.forLooms ?? []).some(({ loom }) => asked.has(loom))),
    )
    .map(({ code }) => code);
}

/** Finds the parts, by code, that are stated to stand in for a part or for its family. */
export function standInsOf(parts: readonly Part[]): (code: string) => string[] {
  const byPart = new Map<string, string[]>();
  const byFamily = new Map<string, string[]>();
  const families = new Map<string, string>();
  for (const { code, family, standsInFor = [] } of parts) {
    if (family !== undefined) families.set(code, family);
    for (const other of standsInFor)
      if ('part' in other) addTo(byPart, other.part, code);
      else addTo(byFamily, other.family, code);
  }
  return (code) => [...(byPart.get(code) ?? []), ...(byFamily.get(families.get(code) ?? '') ?? [])];
}
