import type { Network } from './network.ts';

const order: number[] = [];

/** What serving a link is worth to a seller beside its toll: goods towards its band's limits, less what a dearer rate takes. */
export function gainOf({ most, least }: Network, link: number, credit: number, more: number): number {
  return (credit >= 0 ? credit * most[link]! : credit * least[link]!) - more * least[link]!;
}

/** The least that a seller's parcel adds in a band, where it serves whom it likes: its charge, less tolls. */
export function bandValue(
  network: Network,
  s: number,
  b: number,
  credit: number,
  toll: Float64Array,
): number {
  const seller = network.sellers[s]!;
  const band = seller.bands[b]!;
  const more = band.rate - seller.leastRate;
  const links = network.linksOfSeller[s]!;
  let value = band.charge;
  if (credit > 0) value += credit * band.lower;
  else if (credit < 0) value += credit * band.below;
  for (let at = 0; at < links.length; at++) {
    const link = links[at]!;
    const gain = toll[link]! + gainOf(network, link, credit, more);
    if (gain > 0) value -= gain;
  }
  return value;
}

/**
 * The credit at which a band's value is greatest. Up to the band's rate: beyond that it would pay to buy what nobody needs.
 * Below 0 where goods must be held under the band's end.
 */
export function bandCredit(network: Network, s: number, b: number, toll: Float64Array): number {
  const seller = network.sellers[s]!;
  const band = seller.bands[b]!;
  const more = band.rate - seller.leastRate;
  const links = network.linksOfSeller[s]!;
  if (band.lower > 0) {
    const credit = lowerCredit(network, links, band.lower, band.rate, more, toll);
    if (credit > 0) return credit;
  }
  return band.held ? upperCredit(network, links, band.below, more, toll) : 0;
}

function lowerCredit(
  { most, least }: Network,
  links: Int32Array,
  lower: number,
  rate: number,
  more: number,
  toll: Float64Array,
): number {
  let missing = lower;
  order.length = 0;
  for (let at = 0; at < links.length; at++) {
    const link = links[at]!;
    if (toll[link]! - more * least[link]! > 0) missing -= most[link]!;
    else if (most[link]! > 0) order.push(link);
  }
  if (missing <= 0) return 0;
  const start = (link: number) => (more * least[link]! - toll[link]!) / most[link]!;
  order.sort((a, c) => start(a) - start(c));
  for (const link of order) {
    const credit = start(link);
    if (credit >= rate) return rate;
    missing -= most[link]!;
    if (missing <= 0) return credit;
  }
  return rate;
}

function upperCredit(
  { least }: Network,
  links: Int32Array,
  below: number,
  more: number,
  toll: Float64Array,
): number {
  let over = -below;
  order.length = 0;
  for (let at = 0; at < links.length; at++) {
    const link = links[at]!;
    if (toll[link]! - more * least[link]! > 0 && least[link]! > 0) {
      over += least[link]!;
      order.push(link);
    }
  }
  if (over <= 0) return 0;
  const end = (link: number) => (toll[link]! - more * least[link]!) / least[link]!;
  order.sort((a, c) => end(a) - end(c));
  for (const link of order) {
    over -= least[link]!;
    if (over <= 0) return -end(link);
  }
  return 0;
}
