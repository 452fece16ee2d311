import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import type { Offer } from '../worker/engine/model/offer.ts';
import { knownSince } from '../worker/engine/model/priceHistory.ts';
import type { Entry } from './catalogue.ts';
import { record, type Ctx } from './club.ts';
import { Invalid, Stale } from './errors.ts';
import { endOf, forgetNewest, keepPast, todayOf } from './offerPrices.ts';
import { offers, unknownInOffers } from './offers.ts';
import { unknownNames } from './references.ts';
import { isVersion, type Changeable } from './version.ts';

/** What came of "seen again": codes whose day is newer now, and those that were seen on that very day before. */
export interface SeenAgain {
  on: string;
  seen: string[];
  already: string[];
}

/** Offers are read and written so many at a time. */
const BATCH = 500;

/**
 * Says of offers that their prices were seen again, unchanged, on a day; of all of them or, where any is unknown or was seen
 * later, of none. Error: Invalid, at the places of the codes.
 */
export async function seenAgain({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { offers: readonly string[]; on?: string | undefined };
}): Promise<SeenAgain> {
  const on = input.on ?? todayOf(ctx);
  const places = new Map<string, number>();
  for (const [at, code] of input.offers.entries()) if (!places.has(code)) places.set(code, at);
  const named = [...places].map(([code, at]) => ({ code, path: ['offers', at] }));
  const findings = await unknownNames(ctx, 'offer', named);
  const told: SeenAgain = { on, seen: [], already: [] };
  // All are written in one order, so that two such calls do not wait for each other.
  const codes = [...places.keys()].sort();
  for (let from = 0; from < codes.length; from += BATCH) {
    const keys = codes.slice(from, from + BATCH);
    const found = await offers.bulk.stored({ ctx, input: { keys } });
    const stored = keys.flatMap((key) => found.get(key) ?? []);
    const changes = stored.flatMap((before) =>
      before.seenOn === on ? [] : [{ before, body: { ...before, seenOn: on } }],
    );
    for (const { code, seenOn } of stored) if (seenOn === on) told.already.push(code);
    const faults = await offers.bulk.faults({ ctx, input: changes });
    for (const [code, own] of faults)
      findings.push(...own.map((finding) => atCode(finding, code, places.get(code) ?? 0, on)));
    if (findings.length > 0) continue;
    await offers.bulk.write({ ctx, input: changes });
    told.seen.push(...changes.map(({ body }) => body.code));
  }
  if (findings.length > 0) throw new Invalid(findings);
  return told;
}

function atCode(finding: Finding, code: string, at: number, on: string): Finding {
  return {
    ...finding,
    at: pointer(['offers', at]),
    where: `offers, number ${at + 1}`,
    found: JSON.stringify(code),
    ...(finding.limit === undefined
      ? {}
      : {
          todo: `The price of ${code} was seen on ${finding.limit}, after ${on}. Leave it out, or give a later day.`,
        }),
  };
}

/**
 * Keeps an offer's body as a past price where it was seen before the stored one; the offer stays as it is. Undefined where
 * it is not older, and nothing was done. Errors: NotFound, Stale, Invalid for names that are not there.
 */
export async function keepOlder({
  ctx,
  input: { body, version },
}: {
  ctx: Ctx;
  input: { body: Offer; version: Changeable };
}): Promise<Entry<Offer> | undefined> {
  const entry = await heldOffer(ctx, body.code, version);
  const { seenOn } = body;
  if (seenOn === undefined || knownSince(await endOf(ctx, body.code), body) === undefined) return undefined;
  const findings = (await unknownInOffers(ctx, [body])).get(body.code) ?? [];
  if (findings.length > 0) throw new Invalid(findings);
  await keepPast(ctx, body, seenOn);
  await record(ctx, 'offer.keep-price', body.code, { after: body });
  return entry;
}

/**
 * Takes the stored price of an offer out of its history, since its day or price was put in wrongly: what replaces the offer
 * in the same transaction takes its place. Errors: NotFound, Stale.
 */
export async function correctPrice({
  ctx,
  input: { code, version },
}: {
  ctx: Ctx;
  input: { code: string; version: Changeable };
}): Promise<void> {
  await heldOffer(ctx, code, version);
  await forgetNewest(ctx, code);
}

async function heldOffer(ctx: Ctx, code: string, version: Changeable): Promise<Entry<Offer>> {
  await offers.bulk.stored({ ctx, input: { keys: [code] } });
  const entry = await offers.get({ ctx, input: { code } });
  const { number, born } = entry.version;
  if (!isVersion({ version: number, createdAt: new Date(born) }, version)) throw new Stale();
  return entry;
}
