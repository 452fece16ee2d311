import type { Fit } from './fit.ts';
import type { LoomRevision } from './loom.ts';
import { partsNamed } from './loomReferences.ts';
import { soundLoom } from './soundness.ts';
import { offerParts, type Offer } from './offer.ts';
import type { Part } from './part.ts';
import type { QuoteRequest } from './job.ts';
import type { StockItem } from './stock.ts';

/** Which part each merged part became: always the one that is left in the end. */
export type Heirs = ReadonlyMap<string, string>;

/** Bodies with every merged part under the code of the part that it became; the very same body where it names none. */

const now = (code: string, heirs: Heirs) => heirs.get(code) ?? code;

export function renamedInLoom<L extends LoomRevision>(loom: L, heirs: Heirs): L {
  // What was stored before looms had all their lists lacks some.
  const named = partsNamed(soundLoom(loom)?.value ?? loom).filter(({ part }) => heirs.has(part));
  if (named.length === 0) return loom;
  const copy = structuredClone(loom);
  for (const { part, path } of named) setAt(copy, path, now(part, heirs));
  return copy;
}

/** A kit that held both parts holds their sum of the one that is left. */
export function renamedInOffer(offer: Offer, heirs: Heirs): Offer {
  if (!offerParts(offer).some(({ part }) => heirs.has(part))) return offer;
  if (offer.form !== 'kit') return { ...offer, part: now(offer.part, heirs) };
  const contents = new Map<string, number>();
  for (const { part, quantity } of offer.contents) {
    const code = now(part, heirs);
    contents.set(code, (contents.get(code) ?? 0) + quantity);
  }
  return { ...offer, contents: [...contents].map(([part, quantity]) => ({ part, quantity })) };
}

/** Of two parts that became one there is no fit any more: its two codes are then alike. */
export function renamedInFit(fit: Fit, heirs: Heirs): Fit {
  if (!heirs.has(fit.from) && !heirs.has(fit.to)) return fit;
  return { ...fit, from: now(fit.from, heirs), to: now(fit.to, heirs) };
}

export function renamedInStock(item: StockItem, heirs: Heirs): StockItem {
  return heirs.has(item.part) ? { ...item, part: now(item.part, heirs) } : item;
}

/** What a part stands in for; nothing twice, and not itself. What somebody confirmed stays confirmed. */
export function renamedInPart<P extends Part>(part: P, heirs: Heirs): P {
  const { standsInFor = [] } = part;
  if (!standsInFor.some((stated) => 'part' in stated && heirs.has(stated.part))) return part;
  const renamed: typeof standsInFor = [];
  for (const stated of standsInFor) {
    if (!('part' in stated)) {
      renamed.push(stated);
      continue;
    }
    const code = now(stated.part, heirs);
    if (code === part.code) continue;
    const same = renamed.findIndex((each) => 'part' in each && each.part === code);
    const twin = renamed[same];
    if (twin === undefined) renamed.push({ ...stated, part: code });
    else if (twin.confirmedBy === undefined && stated.confirmedBy !== undefined)
      renamed[same] = { ...stated, part: code };
  }
  return { ...part, standsInFor: renamed };
}

/** Pins and tools of a request; of two that became one, the first. */
export function renamedInRequest<R extends Pick<QuoteRequest, 'pinned' | 'buildOrBuy'>>(
  request: R,
  heirs: Heirs,
): R {
  const { pinned, buildOrBuy } = request;
  const renamed = <T extends { part: string }>(list: readonly T[]): T[] => {
    const seen = new Set<string>();
    return list.flatMap((item) => {
      const part = now(item.part, heirs);
      if (seen.has(part)) return [];
      seen.add(part);
      return [{ ...item, part }];
    });
  };
  const names = [...(pinned ?? []), ...(buildOrBuy?.tools ?? [])];
  if (!names.some(({ part }) => heirs.has(part))) return request;
  return {
    ...request,
    ...(pinned ? { pinned: renamed(pinned) } : {}),
    ...(buildOrBuy?.tools ? { buildOrBuy: { ...buildOrBuy, tools: renamed(buildOrBuy.tools) } } : {}),
  };
}

function setAt(body: object, path: readonly PropertyKey[], value: string): void {
  const place = path
    .slice(0, -1)
    .reduce((at, key) => at[key] as Record<PropertyKey, unknown>, body as Record<PropertyKey, unknown>);
  const last = path.at(-1);
  if (last !== undefined) place[last] = value;
}
