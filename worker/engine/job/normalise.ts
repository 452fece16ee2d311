import { canonicalJson } from '../model/canonical.ts';
import { byCode } from '../model/code.ts';
import type { Shade, WireColour } from '../model/colour.ts';
import { colourOfLetters } from '../model/colourLetters.ts';
import { fitKey } from '../model/fit.ts';
import { addTo } from '../model/group.ts';
import { currenciesOf, type BuildOrBuyRequest } from '../model/buildOrBuyRequest.ts';
import type { Job, JobLoom } from '../model/job.ts';
import { keeping, optionalThings, optionsInOrder, standsWith, type Optional } from '../model/loomOptions.ts';
import { partsNamed } from '../model/loomReferences.ts';
import { choiceInOrder } from '../model/optionSets.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import { loomsFor, type Part } from '../model/part.ts';
import { waveOf } from '../model/request.ts';
import { resolveSettings, type Settings } from '../model/settings.ts';
import type { Supplier } from '../model/supplier.ts';
import { exchangeOf } from '../model/exchange.ts';
import { laneCurrencies } from './lanes.ts';
import { completeEnds } from './completeEnds.ts';
import { isCandidate, isTracerSleeve } from './candidates.ts';
import { relatedParts } from './relatedParts.ts';
import { proposedAmong } from './unconfirmed.ts';
import { nearMisses } from './nearMisses.ts';
import { isWirePart, sizesKey, specKey, specOf } from './wireSpec.ts';

/**
 * The job as it is worked: only what the request can reach, and every list whose order means nothing in byte order.
 * Two jobs that ask the same come out as the same bytes. Working it again changes nothing.
 */
export function normaliseJob(job: Job): Job {
  const looms = loomsAsked(job);
  const { parts, offers } = reachable(looms, job);
  const kept = new Set(parts.map(codeOf));
  const tools = new Set(parts.filter(({ kind }) => kind === 'tool').map(codeOf));
  const selling = new Set([...offers.map((offer) => offer.supplier), ...(job.request.insistOn ?? [])]);
  const suppliers = sorted(
    job.suppliers.filter((supplier) => selling.has(supplier.code)),
    codeOf,
  );
  const revisions = new Map(looms.map((loom) => [loom.code, loom.revision]));
  const { unconfirmed: _proposed, doubtedFits: _doubted, ...rest } = job;
  return {
    ...rest,
    ...proposedAmong(job, { parts, offers }),
    ...doubtedAmong(job, kept),
    parts: sorted(parts.map(sortPart), codeOf),
    suppliers,
    offers: sorted(offers.map(sortOffer), codeOf),
    fits: sorted(
      job.fits.filter(({ from, to }) => kept.has(from) && kept.has(to)),
      fitKey,
    ),
    ...termsOf(job, suppliers),
    stock: sorted(
      // An empty drawer is no stock. A tool is not taken off the shelf: it is owned whatever is used of the rest.
      job.stock.filter(
        ({ part, count }) =>
          count > 0 && kept.has(part) && (job.request.useStock !== false || tools.has(part)),
      ),
      codeOf,
    ),
    looms,
    club: { ...job.club, settings: sortSettings(job.club.settings) },
    request: {
      ...sortRequest(job.request, suppliers),
      ...(job.request.buildOrBuy ? { buildOrBuy: sortBuildOrBuy(job.request.buildOrBuy, kept) } : {}),
      ...(job.request.settings ? { settings: sortSettings(job.request.settings) } : {}),
      looms: sorted(
        job.request.looms.map((line) => ({
          ...optionsInOrder(line),
          revision: revisions.get(line.loom) ?? 1,
        })),
        (line) => `${line.loom} ${waveOf(line)} ${JSON.stringify(line.options ?? [])}`,
      ),
    },
  };
}

/** Of the fits in doubt those between these parts; nothing at all where there are none. */
function doubtedAmong({ doubtedFits = [] }: Job, kept: ReadonlySet<string>): Pick<Job, 'doubtedFits'> {
  const among = doubtedFits.filter(({ from, to }) => kept.has(from) && kept.has(to));
  return among.length === 0 ? {} : { doubtedFits: sorted(among, fitKey) };
}

/** What a job has but for its market. */
export type Asking = Pick<Job, 'looms' | 'parts' | 'fits' | 'request'> & {
  club: Pick<Job['club'], 'settings'>;
};

/**
 * The parts of a catalogue, by code, whose offers can matter to a job: those that sell none of them are not among the offers
 * of the normalised job, unless they are pinned.
 */
export function partsInReach(job: Asking): ReadonlySet<string> {
  return wantedOf(loomsAsked(job), job).wanted;
}

/** The looms that are asked for, each complete, with what its options choose, in order. */
function loomsAsked(job: Asking): JobLoom[] {
  const chosen = new Map<string, string[][]>();
  for (const line of job.request.looms) addTo(chosen, line.loom, line.options ?? []);
  const catalogue = new Map(job.parts.map((part) => [part.code, part]));
  const complete = (loom: JobLoom) => completeEnds(loom, endRulesOf(job, loom), catalogue);
  return sorted(
    job.looms.flatMap((loom) => {
      const sets = chosen.get(loom.code);
      return sets ? [sortLoom(asChosen(complete(loom), sets))] : [];
    }),
    codeOf,
  );
}

function endRulesOf({ club, request }: Asking, loom: JobLoom) {
  return resolveSettings({ club: club.settings, loom: loom.settings, quote: request.settings }).endDefaults
    .value;
}

/**
 * A loom with what stands with any of the sets of options that are chosen for it. What is left out is remembered by its
 * options: choosing one of these would change something.
 */
function asChosen(loom: JobLoom, sets: readonly string[][]): JobLoom {
  const isAsked = (item: Optional) => sets.some((options) => standsWith(item, options));
  const leftOut = new Set(loom.optionsLeftOut);
  for (const item of optionalThings(loom))
    if (!isAsked(item)) for (const option of item.options ?? []) leftOut.add(option);
  return {
    ...keeping(loom, isAsked),
    ...(leftOut.size > 0 ? { optionsLeftOut: [...leftOut].sort(byCode) } : {}),
  };
}

/** The lanes that the suppliers' goods take, and the rates that hold on the day: of each currency the last one. */
function termsOf(job: Job, suppliers: readonly Supplier[]): Pick<Job, 'lanes' | 'rates'> {
  const countries = new Set(suppliers.flatMap(({ country }) => country ?? []));
  const lanes = job.lanes.filter(({ from, to }) => to === job.club.country && countries.has(from));
  const { parcelNuisance } = job.request;
  const currencies = new Set([
    ...suppliers.map(({ currency }) => currency),
    ...lanes.flatMap(laneCurrencies),
    ...(parcelNuisance ? [parcelNuisance.currency] : []),
    ...(job.request.buildOrBuy ? currenciesOf(job.request.buildOrBuy) : []),
  ]);
  const exchange = exchangeOf(job);
  const rates = [...currencies].flatMap((currency) => exchange.rateOf(currency) ?? []);
  return { lanes: sorted(lanes, codeOf), rates: sorted(rates, codeOf) };
}

/** Tools that are not needed here are not counted. Extras are printed in the order of the request. */
function sortBuildOrBuy(asked: BuildOrBuyRequest, kept: ReadonlySet<string>): BuildOrBuyRequest {
  const { tools, extras, ...rest } = asked;
  const counted = tools?.filter(({ part }) => kept.has(part)) ?? [];
  return {
    ...rest,
    ...(extras?.length ? { extras } : {}),
    ...(counted.length > 0 ? { tools: sorted(counted, ({ part }) => part) } : {}),
  };
}

/** Suppliers that sell nothing that is needed need not be shut out. */
function sortRequest(request: Job['request'], suppliers: readonly Supplier[]): Job['request'] {
  const known = new Set(suppliers.map(codeOf));
  const { shutOut, insistOn, pinned, ...rest } = request;
  const shut = [...new Set(shutOut)].filter((code) => known.has(code)).sort(byCode);
  return {
    ...rest,
    ...(shut.length > 0 ? { shutOut: shut } : {}),
    ...(insistOn?.length ? { insistOn: [...new Set(insistOn)].sort(byCode) } : {}),
    ...(pinned?.length ? { pinned: sorted(pinned, ({ part }) => part) } : {}),
  };
}

/**
 * The parts that the looms name, the wire parts that their wires ask for, what hangs together with these, and the offers
 * that sell any of them. A wire that no part matches, or that nobody sells, keeps the parts that come nearest, which the
 * result names, and a terminal those that cover it; a kit keeps all that is in it.
 */
function reachable(looms: JobLoom[], job: Job): { parts: Part[]; offers: Offer[] } {
  const { parts, offers, fits, request } = job;
  const { wanted, specs, matching, wireParts } = wantedOf(looms, job);
  const pins = new Set((request.pinned ?? []).map(({ offer }) => offer));
  const kept = offers.filter(
    (offer) => pins.has(offer.code) || offerParts(offer).some(({ part }) => wanted.has(part)),
  );
  const sold = new Set(kept.flatMap((offer) => offerParts(offer).map(({ part }) => part)));
  const named = new Set([...wanted, ...sold]);
  // What would cover a terminal is named in a note, and not bought.
  for (const { from, relation, to } of fits) if (relation === 'covers' && wanted.has(to)) named.add(from);
  const nearest = nearMisses(wireParts);
  for (const [key, wire] of specs)
    if (!matching.get(key)?.some((code) => sold.has(code)))
      for (const thinner of [true, false])
        for (const near of nearest(wire, { thinner })) named.add(near.code);
  return { parts: parts.filter((part) => named.has(part.code)), offers: kept };
}

/** The parts whose offers can matter, by code; the wires that are asked for, and the wire parts that match each. */
function wantedOf(looms: JobLoom[], { parts, fits, request }: Asking) {
  const wanted = new Set([
    ...looms.flatMap((loom) => partsNamed(loom).map((named) => named.part)),
    ...(request.pinned ?? []).map(({ part }) => part),
  ]);
  const specs = new Map(
    looms.flatMap((loom) =>
      loom.wires.map((wire) => {
        const spec = specOf(wire);
        return [specKey(spec), spec] as const;
      }),
    ),
  );
  const wireParts = parts.filter(isWirePart);
  const matching = new Map<string, string[]>();
  for (const part of wireParts) {
    const key = specKey(part);
    if (!specs.has(key)) continue;
    wanted.add(part.code);
    addTo(matching, key, part.code);
  }
  for (const part of standIns(looms, parts)) wanted.add(part.code);
  for (const part of coveringCandidates(looms, parts)) wanted.add(part.code);
  for (const code of relatedParts(parts, wanted, looms, fits)) wanted.add(code);
  return { wanted, specs, matching, wireParts };
}

/** The parts that may be chosen for coverings that name none. */
function coveringCandidates(looms: JobLoom[], parts: Part[]): Part[] {
  const sorts = new Map<string, JobLoom['coverings'][number]>();
  for (const covering of looms.flatMap(({ coverings }) => coverings))
    if (covering.part === undefined) sorts.set(`${covering.kind} ${covering.shade ?? ''}`, covering);
  return parts.filter((part) => [...sorts.values()].some((covering) => isCandidate(part, covering)));
}

/** The parts that may stand in for wires by their colourRule: larger ones, plain ones, sleeves in a tracer's colour. */
function standIns(looms: JobLoom[], parts: Part[]): Part[] {
  const larger = new Set<string>();
  const plain = new Set<string>();
  const shades = new Set<Shade>();
  for (const wire of looms.flatMap(({ wires }) => wires)) {
    const spec = specOf(wire);
    const { base, tracer } = spec.colour;
    if (wire.colourRule === 'nextSizeUp') larger.add(sizesKey(spec));
    if (wire.colourRule !== 'plainBaseWithTracerSleeve' || tracer === undefined) continue;
    plain.add(specKey({ ...spec, colour: { base } }));
    shades.add(tracer);
  }
  if (larger.size === 0 && shades.size === 0) return [];
  return parts.filter((part) =>
    isWirePart(part)
      ? larger.has(sizesKey(part)) || plain.has(specKey(part))
      : [...shades].some((shade) => isTracerSleeve(part, shade)),
  );
}

/** Conditions and stand-ins accepted are sets. */
function sortSettings<T extends Settings>(settings: T): T {
  const { conditionsAccepted, standInsAccepted } = settings;
  return {
    ...settings,
    ...(conditionsAccepted ? { conditionsAccepted: [...new Set(conditionsAccepted)].sort(byCode) } : {}),
    ...(standInsAccepted ? { standInsAccepted: [...new Set(standInsAccepted)].sort(byCode) } : {}),
  };
}

/** Lists inside a loom whose order means nothing. The order of `via` and `over` is the way along the branches. */
function sortLoom(loom: JobLoom): JobLoom {
  const byId = <T extends { id: string; options?: string[] | undefined }>(list: T[]) =>
    sorted(list.map(optionsInOrder), (item) => item.id);
  const byPart = <T extends { part: string; options?: string[] | undefined }>(list: T[]) =>
    list
      .map(optionsInOrder)
      .sort((a, b) => byCode(a.part, b.part) || byCode(canonicalJson(a), canonicalJson(b)));
  return {
    ...optionsInOrder({ ...loom, options: loom.options?.map(choiceInOrder) }),
    ...(loom.settings ? { settings: sortSettings(loom.settings) } : {}),
    points: byId(loom.points),
    branches: byId(loom.branches),
    wires: byId(loom.wires.map((wire) => ({ ...wire, colour: inShades(wire.colour, loom.colourSystem) }))),
    cables: byId(loom.cables),
    coverings: byId(loom.coverings),
    fittings: byPart(loom.fittings),
    parts: byPart(loom.parts),
    asOriginal: sorted(loom.asOriginal, canonicalJson),
  };
}

/** A colour in letters as shades; the letters were checked with the job. */
function inShades(colour: WireColour, system: JobLoom['colourSystem']): WireColour {
  const { letters, ...rest } = colour;
  if (letters === undefined || system === 'words') return rest;
  return { ...rest, ...colourOfLetters(letters, system, rest.base) };
}

function sortPart(part: Part): Part {
  const copy = { ...part };
  if (copy.standsInFor) copy.standsInFor = sorted(copy.standsInFor, canonicalJson);
  if (copy.kind === 'housing' && copy.mates) copy.mates = [...copy.mates].sort(byCode);
  if (copy.kind === 'tool' && copy.worksFamilies) copy.worksFamilies = [...copy.worksFamilies].sort(byCode);
  if (copy.kind === 'madeUpLoom' && copy.forLooms)
    copy.forLooms = loomsFor(copy.forLooms).map((one) => (one.options.length > 0 ? one : one.loom));
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
