import { RULE_NAMES as OFFER_RULES } from '../offers/rules.ts';

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
  /** Postage by value goes down from band to band. Off: the first band's charge holds. */
  'postageByValue',
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
  /** Off: nothing stands in for a part of the same family or of none. */
  'standIns',
  /** A piece serves one need. Off: a stand-in that is needed itself is counted for both. */
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
