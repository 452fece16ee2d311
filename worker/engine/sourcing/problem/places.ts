/** By former place the new one; undefined: there is none. */
export type Places = readonly (number | undefined)[];

/** The places of those that stay, from `first` on. */
export function placesOf(count: number, stays: (at: number) => boolean, first: number): Places {
  let next = first;
  return Array.from({ length: count }, (_, at) => (stays(at) ? next++ : undefined));
}

/** By new place the former one. */
export function formerOf(places: Places): number[] {
  return places.flatMap((place, at) => (place === undefined ? [] : [at]));
}
