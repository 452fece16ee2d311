/**
 * The rules of offers of every form, each of which this brute force can switch off to see whether it decides an instance.
 * Where a rule forbids or charges, off the optimum can only fall; where it allows, it can only rise.
 */
export const RULE_NAMES = [
  /** From a break's start on, all units are at its price. Off: all are at the first price. */
  'breaks',
  /** Packs, lengths and kits are bought in multiples of the offer's step. Off: any number. */
  'stepPacks',
  /** So many packs, lengths or kits at the least. Off: from one. */
  'minimumPacks',
  /** No more is bought than there is. Off: there is always enough. */
  'stock',
  /** Only what is in an accepted condition is bought. Off: anything. */
  'conditions',
  /** A supplier sells for its minimum order at the least. Off: for anything. */
  'minimumOrder',
  /** A supplier's handling is charged. Off: it is not. */
  'handling',
  /** The weight chooses the band of postage. Off: the first band's charge holds. */
  'weightBands',
  /** With postage by weight, goods from a value on are sent free. Off: never. */
  'freeFromValue',
  /** Kits are bought, and one serves all that it holds. Off: no kit is. */
  'kits',
  /** A length may be shorter than stated by its tolerance. Off: it is as long as stated. */
  'tolerance',
  /** The ends of a length are lost. Off: they are not. */
  'endLoss',
  /** Pieces come whole out of what is bought. Off: only the total length counts. */
  'wholePieces',
  /** Fixed lengths and a length by the metre may serve together. Off: one or the other. */
  'hankWithMetre',
  /** One length by the metre at most, from one offer. Off: one from each offer. */
  'oneMetreLength',
  /** While the setting holds, a colour comes from one supplier. Off: the setting is not read. */
  'oneColourOneSupplier',
  /** Of tape only the total counts. Off: each covering's comes in one length, like sleeve. */
  'joinableTape',
  /** More may be bought to reach a minimum order. Off: nothing is bought there that could be a step less and cheaper. */
  'overbuyForMinimum',
] as const;
export type RuleName = (typeof RULE_NAMES)[number];
export type Rules = Readonly<Record<RuleName, boolean>>;

export const RULES_ON = Object.fromEntries(RULE_NAMES.map((name) => [name, true])) as Rules;

export function without(name: RuleName): Rules {
  return { ...RULES_ON, [name]: false };
}
