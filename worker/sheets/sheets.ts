import type { Result } from '../engine/model/result.ts';
import { buildSections, titleOf } from './bench/buildSheet.ts';
import { cuttingSections } from './bench/cutting.ts';
import { labelSections } from './bench/labels.ts';
import { benchLengths } from './bench/lengths.ts';
import { testSections } from './bench/testSheet.ts';
import { list, pictured, table, text, type Section } from './block.ts';
import { buildOrBuySection } from './buildOrBuy/sections.ts';
import { firstPage, quoteTitle } from './firstPage.ts';
import { DEFAULT_LABELS, type LabelLayout } from './labels/label.ts';
import { needs } from './needs.ts';
import { supplierNames } from './names.ts';
import { orderListSection } from './orderList.ts';
import { branchPictures } from './pictures/branches.ts';
import { bySuppliersPicture } from './pictures/bySuppliers.ts';
import { lengthBars } from './pictures/lengthBars.ts';
import { supplierBars } from './pictures/supplierBars.ts';
import { SHEET_TITLES, type Sheet, type SheetName } from './sheet.ts';

/** What is said where a sheet has nothing to say. */
const NOTHING: Record<SheetName, string> = {
  quote: '',
  orders: 'Nothing is ordered.',
  cutting: 'Nothing is cut for this quote.',
  labels: 'No wire of this quote has ends to label.',
  build: 'This quote has nothing to build. If it was made by an older version, ask for it again.',
  test: 'This quote has nothing to test. If it was made by an older version, ask for it again.',
};

/** One sheet of a result; labels in that layout. */
export function sheetOf(result: Result, name: SheetName, labels: LabelLayout = DEFAULT_LABELS): Sheet {
  const sections = sectionsOf(result, name, labels).filter(({ blocks }) => blocks.length > 0);
  return {
    name,
    title: name === 'quote' ? quoteTitle(result) : SHEET_TITLES[name],
    sections: sections.length === 0 ? [{ title: '', blocks: text(NOTHING[name]) }] : sections,
  };
}

function sectionsOf(result: Result, name: SheetName, labels: LabelLayout): Section[] {
  switch (name) {
    case 'quote':
      return quoteSections(result);
    case 'orders':
      return result.orderLists.map((each) => orderListSection({ list: each, asOf: result.asOf }));
    case 'cutting':
      return cuttingSections(result);
    case 'labels':
      return labelSections(result, labels);
    case 'build':
      return withBranches(result, buildSections(result));
    case 'test':
      return testSections(result);
  }
}

function quoteSections(result: Result): Section[] {
  const bars = lengthBars(benchLengths(result));
  return [
    { title: '', blocks: firstPage(result) },
    buildOrBuySection(result),
    { title: 'What each order costs', blocks: pictured(supplierBars(result)) },
    { title: 'Cost and the number of suppliers', blocks: bySuppliers(result) },
    { title: 'What is needed', blocks: needs(result) },
    {
      title: 'How each bought length is cut',
      blocks:
        bars.length === 0
          ? []
          : [
              ...text(
                'Each bar is one whole length. The pieces stand in the order of cutting; the offcut is crossed.',
              ),
              ...bars.flatMap(pictured),
            ],
    },
  ];
}

function bySuppliers(result: Result): Section['blocks'] {
  const picture = bySuppliersPicture(result);
  if (!picture) return [];
  const nameOf = supplierNames(result);
  return [
    ...pictured(picture),
    ...table(
      [
        { head: 'At most', align: 'right' },
        { head: 'Suppliers', wraps: true },
        { head: `Total, ${result.currency}`, align: 'right' },
        { head: 'More', align: 'right' },
      ],
      (result.beside?.bySuppliers ?? []).map(({ atMost, suppliers, total, more }) => [
        `${atMost}`,
        suppliers.map(nameOf).join(', '),
        total.amount,
        more.amount,
      ]),
    ),
  ];
}

/** The build sheet with the drawing of each loom's branches after the order of work. */
function withBranches(result: Result, sections: readonly Section[]): Section[] {
  const [order, ...rest] = sections;
  if (!order) return [];
  const drawn = (result.bench?.looms ?? []).flatMap((loom): Section[] => {
    const title = titleOf(loom, result);
    const { pictures, toScale, stretched, rings } = branchPictures(title, loom.branches);
    if (pictures.length === 0) return [];
    const notes = [
      'Lengths are mm, from point to point.',
      ...(!toScale
        ? ['Not to scale: the figures count.']
        : stretched.length === 0
          ? ['All is to scale.']
          : ['To scale, except dashed branches: they are drawn longer, to make room for their names.']),
      ...(rings.length === 0 ? [] : [`Not drawn, because they close a ring: ${rings.join(', ')}.`]),
    ];
    return [{ title: `Branches: ${title}`, blocks: [...pictures.flatMap(pictured), ...list(notes)] }];
  });
  return [order, ...drawn, ...rest];
}
