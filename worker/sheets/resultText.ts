import type { Result } from '../engine/model/result.ts';
import { counted } from './amounts.ts';
import {
  countNeeds,
  cutLengths,
  cutting,
  fromStock,
  leftOut,
  leftovers,
  lengthNeeds,
  wireNeeds,
} from './needs.ts';
import { orderListText } from './orderList.ts';
import { beside } from './beside.ts';
import { branches } from './branches.ts';
import { cautions, findings, mendFirst, notYetUsed, settings } from './remarks.ts';
import { withOptions } from './options.ts';
import { PAGE, paragraph, printable } from './textTable.ts';
import { comparisons, costs, postageShares, proof, rates, unsourced } from './verdict.ts';

/** A whole quote as text, 110 characters wide, with a line end at its end. Sections that would be empty are left out. */
export function resultText(result: Result): string {
  const sections: [string, string][] = [
    ['Mend first', mendFirst(result)],
    ['Wire needed', wireNeeds(result)],
    ['Sleeve, tape and cable needed', lengthNeeds(result)],
    ['Parts needed', countNeeds(result)],
    ['Cut lengths', cutLengths(result)],
    ['Branches', branches(result)],
    ['Needed, but not bought', leftOut(result)],
    ['Orders', result.orderLists.map(orderListText).join('\n\n\n')],
    ['From the shelf', fromStock(result)],
    ['Cutting', cutting(result)],
    ['Cost', costs(result)],
    ['Each line’s share of postage, handling and tax', postageShares(result)],
    ['Left over', leftovers(result)],
    ['Not sourced', unsourced(result)],
    ['Compared', comparisons(result)],
    ['What lies beside the cheapest', beside(result)],
    ['Proof', proof(result)],
    ['Rates of exchange', rates(result)],
    ['Found in the input', findings(result)],
    ['Settings used', settings(result)],
    ['Accepted, but not yet used in this quote', notYetUsed(result)],
    ['Take care', cautions(result)],
  ];
  return [
    heading(result),
    ...sections.filter(([, text]) => text !== '').map(([title, text]) => `${ruled(title)}\n\n${text}`),
  ]
    .join('\n\n\n')
    .concat('\n');
}

function heading(result: Result): string {
  const looms = result.looms.map(({ loom, name, quantity, revision, options }) =>
    paragraph(`${quantity} × ${name} (${loom}, revision ${revision})${withOptions(options)}`, '  '),
  );
  return [`Quote as of ${result.asOf}`, ...looms, '', paragraph(summary(result))].map(clean).join('\n');
}

/** The answer in one sentence, with what is wrong with it. */
function summary({
  orderLists,
  costs: { total },
  proof,
  unsourced: missing,
  findings: found,
}: Result): string {
  const stops = found.filter(({ severity }) => severity === 'stop').length;
  return [
    orderLists.length === 0
      ? 'Nothing is bought.'
      : `${total.amount} ${total.currency} delivered, from ${counted(suppliersOf(orderLists), 'supplier')}.`,
    ...(proof.status === 'bestSoFar'
      ? [`Not proven the cheapest: at most ${proof.gapPercent} % could still be saved (see: Proof).`]
      : []),
    ...(missing.length === 0
      ? []
      : [`Not in this price: ${counted(missing.length, 'need')} that no offer meets (see: Not sourced).`]),
    ...(stops === 0 ? [] : [`Mend first: ${counted(stops, 'fault')} (see: Mend first).`]),
  ].join(' ');
}

const suppliersOf = (lists: Result['orderLists']) => new Set(lists.map(({ supplier }) => supplier)).size;

const clean = (text: string) => text.split('\n').map(printable).join('\n');

function ruled(title: string): string {
  return `== ${title} ${'='.repeat(PAGE - title.length - 4)}`;
}
