/** Rules of offers of every form. Off: as said. */
const OFFER_RULES = [
  /** From a break's start on, all units are at its price. Off: all are at the first price. */
  'breaks',
  /** Packs, lengths and kits are bought in multiples of the offer's step. Off: any number. */
  'stepPacks',
  /** So many packs, lengths or kits at the least. Off: from one. */
  'minimumPacks',
  /** Packs are sold whole. Off: packs of an even count, with neither minimum nor step, also by the half. */
  'wholePacks',
  /** Several offers may serve one counted need. Off: one serves it whole. */
  'mixedOffers',
  /** A length by the metre is the offer's minimum at least. Off: from one step. */
  'metreMinimum',
  /** A length by the metre is a multiple of the offer's step. Off: of half of it. */
  'metreStep',
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
  /** More than is needed may be bought. Off: nothing is bought that could be a step less and cheaper. */
  'overbuying',
] as const;

/** Rules of tax, customs and currency. Off: as said. */
const MONEY_RULES = [
  /** Prices without tax have the tax of the country added at home. Off: nothing is added. */
  'taxAdded',
  /** From prices with tax, the seller's tax is taken off what is sent abroad. Off: it stays. */
  'taxTakenOff',
  /** Off: no duty. */
  'duty',
  /** Off: duty on parcels of any value. */
  'dutyThreshold',
  /** Off: duty is on goods and postage, whatever the lane says. */
  'dutyOn',
  /** Off: no tax on what comes from abroad. */
  'importTax',
  /** Off: parcels of any value are taxed. */
  'taxThreshold',
  /** Off: clearing is free. */
  'clearanceFee',
  /** Off: the fee is on parcels of any value. */
  'clearanceThreshold',
  /** Off: the goods alone are compared with thresholds, whatever the lane says. */
  'valueIs',
  /** Off: a parcel of just the value of a threshold is free, whatever the lane says. */
  'exactlyThere',
  /** Prices with tax and duty have nothing more added. Off: they are taken as holding none. */
  'taxAndDuty',
  /** Off: a unit of each currency is worth one of the club's. */
  'currencyRate',
  /** Of several rates up to the day the latest holds. Off: the earliest. */
  'latestRate',
  /** Rates of later days are not read. Off: they are. */
  'rateOfDay',
  /** Off: postage is free. */
  'postage',
  /** Postage by value goes down from band to band. Off: the first band's charge holds. */
  'postageByValue',
  /** A value at a band's start belongs to it. Off: it belongs to the band before. */
  'bandStart',
  /** Bands are judged by the unrounded value of the goods. Off: by the value rounded half-up to the minor unit. */
  'unroundedValue',
  /** Off: the last band of postage by value, where it is free, is not reached. */
  'freeThreshold',
] as const;

/** Rules of what the user asks for. Off: the field is not read. */
const REQUEST_RULES = [
  'neededBy',
  /** An offer's own lead days come before its supplier's. Off: they are not read. */
  'offerLeadDays',
  'atMostSuppliers',
  'shutOut',
  'insistOn',
  'pinned',
  'parcelNuisance',
] as const;

/** Rules of what stands in for what, of families and their tools, and of lengths. */
const PART_RULES = [
  /** Several lengths by the metre where the longest is too short. Off: one all the same. */
  'severalMetreLengths',
  /** Wires of one cable type, size and colour serve alike. Off: only the first by code serves. */
  'equalParts',
  /** Off: nothing stands in for a part of the same family or of none. */
  'standIns',
  /** A piece serves one requirement. Off: a stand-in that is needed itself is counted for both. */
  'standInsShared',
  /** Off: all that is stated stands in, proposed and refuted too. */
  'standInStatus',
  /** Only a whole family stands in for another. Off: its parts do one by one. */
  'families',
  /** Off: no tool is needed. */
  'tools',
  /** A tool serves all families that it works. Off: one only. */
  'toolsShared',
  /** Off: tools on the shelf are not counted. */
  'toolsOwned',
] as const;

/** Rules of orders that follow each other, and of the shelf. */
const TIME_RULES = [
  /** Off: all is bought in one order. */
  'waves',
  /** What an earlier order leaves serves a later one. Off: each order serves its own looms. */
  'wavesCarryOver',
  /** Off: no samples. */
  'samples',
  /** Off: pieces on the shelf are not counted. */
  'stockPieces',
  /** What looms take from stock is taken off the shelf first. Off: it is not. */
  'stockTakenFirst',
  /** Off: lengths on the shelf are not counted. */
  'stockLengths',
  /** Own lengths may stand beside those of the one supplier. Off: they may not. */
  'oneColourOneSupplierExemptsStock',
] as const;

/** All rules of sourcing, each of which the brute force can switch off to see whether it decides an instance. */
export const RULE_NAMES = [
  ...OFFER_RULES,
  ...MONEY_RULES,
  ...REQUEST_RULES,
  ...PART_RULES,
  ...TIME_RULES,
] as const;
export type RuleName = (typeof RULE_NAMES)[number];
export type Rules = Readonly<Record<RuleName, boolean>>;

export const RULES_ON = Object.fromEntries(RULE_NAMES.map((name) => [name, true])) as Rules;

export function without(name: RuleName): Rules {
  return { ...RULES_ON, [name]: false };
}
