/**
 * The rules of sourcing, each of which the brute force can switch off to see whether it decides an instance. Where a rule
 * forbids, off allows more mixes (the optimum can only fall); `overbuying`, `mixedOffers` and `equalParts` allow, and off
 * forbids (it can only rise).
 */
export const RULE_NAMES = [
  /** Packs are sold whole. Off: an offer without a minimum also sells just the pieces needed, at its price a piece. */
  'wholePacks',
  /** An offer that is used is used for its minimum of packs at least. Off: from one pack. */
  'minimumPacks',
  /** Several offers may serve one counted requirement. Off: one offer serves it whole. */
  'mixedOffers',
  /** A length bought is the offer's minimum at least. Off: no minimum. */
  'metreMinimum',
  /** A length bought is a multiple of the offer's step. Off: the least length that will do may be bought to the mm. */
  'metreStep',
  /** A wire requirement is one length from one offer. Off: as many lengths from as many offers as one likes. */
  'oneLength',
  /** Catalogue parts of one cable type, size and colour serve alike. Off: only the first by code serves. */
  'equalParts',
  /** A supplier's postage is counted. Off: none is. */
  'postage',
  /** The last band's charge of 0 frees of postage. Off: the charge before it goes on. */
  'freeThreshold',
  /** A value at a band's start belongs to it. Off: it belongs to the band before. */
  'bandStart',
  /** Bands are judged by the unrounded value of the goods. Off: by the value rounded half-up to the minor unit. */
  'unroundedValue',
  /** More than is needed may be bought. Off: no offer is bought that could be one step less. */
  'overbuying',
] as const;
export type RuleName = (typeof RULE_NAMES)[number];
export type Rules = Readonly<Record<RuleName, boolean>>;

export const RULES_ON = Object.fromEntries(RULE_NAMES.map((name) => [name, true])) as Rules;

export function without(name: RuleName): Rules {
  return { ...RULES_ON, [name]: false };
}
