import type { Result } from '../engine/model/result.ts';
import { alternatives } from './alternatives.ts';
import type { Section } from './block.ts';
import { labourSection } from './buildOrBuy/sections.ts';
import { cutList } from './cutListSheet.ts';
import { needs, leftOutPlaces } from './needs.ts';
import { cautions, findings, notYetUsed, settings } from './remarks.ts';
import {
  comparisons,
  costs,
  families,
  imports,
  lines,
  proof,
  rates,
  thresholds,
  unconfirmed,
  unsourced,
} from './verdict.ts';
import { under } from './block.ts';
import { branches, circuits, cutSums, leftovers, needSums, partUses } from './workings.ts';

/** What stands behind the order lists: needs, and the cut list for the bench with what to take care of there. */
export function benchSections(result: Result): Section[] {
  const cut = cutList(result);
  return [
    { title: 'What is needed', blocks: needs(result) },
    {
      title: 'Cut list',
      blocks: cut.length === 0 ? [] : [...cut, ...under('Take care', cautions(result))],
    },
  ];
}

/** Everything else, for whoever asks how it came to this. */
export function appendixSections(result: Result): Section[] {
  return [
    { title: 'What was found', blocks: findings(result) },
    { title: 'Not confirmed', blocks: unconfirmed(result) },
    { title: 'Thresholds: before you change an order', blocks: thresholds(result) },
    { title: 'Not sourced', blocks: unsourced(result) },
    { title: 'Other ways to buy', blocks: comparisons(result) },
    { title: 'Close alternatives', blocks: alternatives(result) },
    labourSection(result),
    { title: 'Cost', blocks: [...costs(result), ...imports(result)] },
    { title: 'Each line with its share of postage', blocks: lines(result) },
    { title: 'Leftovers', blocks: leftovers(result) },
    { title: 'Needs as sums', blocks: needSums(result) },
    { title: 'Cut lengths as sums', blocks: cutSums(result) },
    { title: 'Where parts are used', blocks: [...partUses(result), ...leftOutPlaces(result)] },
    { title: 'Branches', blocks: branches(result) },
    { title: 'Circuits', blocks: circuits(result) },
    { title: 'Families', blocks: families(result) },
    { title: 'Proof', blocks: proof(result) },
    { title: 'Rates of exchange', blocks: rates(result) },
    { title: 'Settings', blocks: settings(result) },
    { title: 'Accepted, but not yet used in this quote', blocks: notYetUsed(result) },
    { title: 'Take care', blocks: cautions(result) },
  ];
}
