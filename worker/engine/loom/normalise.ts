import { canonicalJson } from '../model/canonical.ts';
import { byCode } from '../model/code.ts';
import type { WireColour } from '../model/colour.ts';
import { colourOfLetters } from '../model/colourLetters.ts';
import type { Job, JobLoom } from '../model/job.ts';
import { partsNamed } from '../model/loomReferences.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import type { Part } from '../model/part.ts';
import type { Settings } from '../model/settings.ts';
import { relatedParts } from './relatedParts.ts';
import { isWirePart, nearMisses, specKey, specOf } from './wireSpec.ts';

/**
 * The job as it is worked: only what the request can reach, and every list whose order means nothing in byte order.
 * Two jobs that ask the same come out as the same bytes. Working it again changes nothing.
 */
export function normaliseJob(job: Job): Job {
  const asked = new Set(job.request.looms.map((line) => line.loom));
  const looms = sorted(job.looms.filter((loom) => asked.has(loom.code)).map(sortLoom), codeOf);
  const { parts, offers } = reachable(looms, job.parts, job.offers);
  const selling = new Set(offers.map((offer) => offer.supplier));
  const revisions = new Map(looms.map((loom) => [loom.code, loom.revision]));
  return {
    ...job,
    parts: sorted(parts.map(sortPart), codeOf),
    suppliers: sorted(
      job.suppliers.filter((supplier) => selling.has(supplier.code)),
      codeOf,
    ),
    offers: sorted(offers.map(sortOffer), codeOf),
    looms,
    club: { ...job.club, settings: sortSettings(job.club.settings) },
    request: {
      ...job.request,
      ...(job.request.settings ? { settings: sortSettings(job.request.settings) } : {}),
      looms: sorted(
        job.request.looms.map((line) => ({ ...line, revision: revisions.get(line.loom) ?? 1 })),
        (line) => line.loom,
      ),
    },
  };
}

/**
 * The parts that the looms name, the wire parts that their wires ask for, what hangs together with these, and the offers
 * that sell any of them. A wire that no part matches keeps the parts that come nearest, which the result names; a kit
 * keeps all that is in it.
 */
function reachable(looms: JobLoom[], parts: Part[], offers: Offer[]): { parts: Part[]; offers: Offer[] } {
  const wanted = new Set(looms.flatMap((loom) => partsNamed(loom).map((named) => named.part)));
  const specs = new Map(
    looms.flatMap((loom) =>
      loom.wires.map((wire) => {
        const spec = specOf(wire);
        return [specKey(spec), spec] as const;
      }),
    ),
  );
  const wireParts = parts.filter(isWirePart);
  const matched = new Set<string>();
  for (const part of wireParts) {
    const key = specKey(part);
    if (!specs.has(key)) continue;
    wanted.add(part.code);
    matched.add(key);
  }
  for (const code of relatedParts(parts, wanted, looms)) wanted.add(code);
  const kept = offers.filter((offer) => offerParts(offer).some(({ part }) => wanted.has(part)));
  const named = new Set([...wanted, ...kept.flatMap((offer) => offerParts(offer).map(({ part }) => part))]);
  const nearest = nearMisses(wireParts);
  for (const [key, wire] of specs)
    if (!matched.has(key)) for (const near of nearest(wire)) named.add(near.code);
  return { parts: parts.filter((part) => named.has(part.code)), offers: kept };
}

/** Conditions accepted are a set. */
function sortSettings<T extends Settings>(settings: T): T {
  return settings.conditionsAccepted
    ? { ...settings, conditionsAccepted: [...new Set(settings.conditionsAccepted)].sort(byCode) }
    : settings;
}

/** Lists inside a loom whose order means nothing. The order of `via` and `over` is the way along the branches. */
function sortLoom(loom: JobLoom): JobLoom {
  const byId = <T extends { id: string; options?: string[] | undefined }>(list: T[]) =>
    sorted(list.map(sortOptions), (item) => item.id);
  const byPart = <T extends { part: string; options?: string[] | undefined }>(list: T[]) =>
    list
      .map(sortOptions)
      .sort((a, b) => byCode(a.part, b.part) || byCode(canonicalJson(a), canonicalJson(b)));
  return {
    ...sortOptions(loom),
    ...(loom.settings ? { settings: sortSettings(loom.settings) } : {}),
    points: byId(loom.points),
    branches: byId(loom.branches),
    wires: byId(loom.wires.map((wire) => ({ ...wire, colour: inShades(wire.colour, loom.colourSystem) }))),
    cables: byId(loom.cables),
    coverings: byId(loom.coverings),
    fittings: byPart(loom.fittings),
    parts: byPart(loom.parts),
  };
}

/** A colour in letters as shades; the letters were checked with the job. */
function inShades(colour: WireColour, system: JobLoom['colourSystem']): WireColour {
  const { letters, ...rest } = colour;
  if (letters === undefined || system === 'words') return rest;
  return { ...rest, ...colourOfLetters(letters, system) };
}

function sortOptions<T extends { options?: string[] | undefined }>(item: T): T {
  return item.options ? { ...item, options: [...item.options].sort(byCode) } : item;
}

function sortPart(part: Part): Part {
  const copy = { ...part };
  if (copy.standsInFor) copy.standsInFor = sorted(copy.standsInFor, canonicalJson);
  if (copy.kind === 'housing' && copy.mates) copy.mates = [...copy.mates].sort(byCode);
  if (copy.kind === 'tool' && copy.worksFamilies) copy.worksFamilies = [...copy.worksFamilies].sort(byCode);
  if (copy.kind === 'madeUpLoom' && copy.forLooms) copy.forLooms = [...copy.forLooms].sort(byCode);
  return copy;
}

function sortOffer(offer: Offer): Offer {
  return offer.form === 'kit'
    ? { ...offer, contents: sorted(offer.contents, (content) => content.part) }
    : offer;
}

const codeOf = (item: { code: string }) => item.code;

function sorted<T>(list: readonly T[], key: (item: T) => string): T[] {
  return [...list].sort((a, b) => byCode(key(a), key(b)));
}
