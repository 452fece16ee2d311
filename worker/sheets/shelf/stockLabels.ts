import { colourWords } from '../../engine/model/colour.ts';
import { sizeLabel } from '../../engine/model/size.ts';
import { metres } from '../../engine/units/length.ts';
import { list, text, type Section } from '../block.ts';
import type { Label, LabelLayout } from '../labels/label.ts';
import { byPlace, type Stocked } from './shelfOrder.ts';
import type { ShelfSheet } from './shelfSheet.ts';

/** A label for each stock item, by place as on the stock list. */
export function stockLabelSheet(
  all: readonly Stocked[],
  { layout, day }: { layout: LabelLayout; day: string },
): ShelfSheet {
  return {
    kind: 'Stock labels',
    title: 'Labels for drawers and lengths',
    about: `As of ${day}`,
    day,
    sections: sectionsOf(byPlace(all).map(stockLabel), layout),
  };
}

/** A strip is labels alone, since each of its pages is one. */
function sectionsOf(labels: readonly Label[], layout: LabelLayout): Section[] {
  if (labels.length === 0) return [{ title: '', blocks: text('There is no such stock item to label.') }];
  const block = { form: 'labels', labels, layout } as const;
  if (layout.form === 'strip') return [{ title: '', blocks: [block] }];
  return [
    { title: 'How to print and use the labels', blocks: list(howTo(layout)) },
    { title: '', blocks: [block] },
  ];
}

function howTo({ kind, widthMm, heightMm }: LabelLayout): string[] {
  return [
    `Print at full size (100 %, not “fit to page”). Each label is ${widthMm} × ${heightMm} mm. Measure one before you print all.`,
    'There is one label for each stock item. They stand by place, as on the stock list.',
    kind === 'flag'
      ? 'Fold each label round its length at the dashed line and stick it to itself.'
      : 'Stick each label on its drawer, or tie it to its length.',
  ];
}

/** "Thin-wall wire", "red-3200 · 3.2 m (3200 mm)", "red, 14/0.30", "shed, second drawer": what it is first. */
export function stockLabel({ item, part }: Stocked): Label {
  const { code, place } = item;
  return {
    rows: [
      part.description,
      item.form === 'length' ? `${code} · ${metres(item.lengthMm)} (${item.lengthMm} mm)` : code,
      ...(part.kind === 'wire' ? [`${colourWords(part.colour)}, ${sizeLabel(part.size)}`] : []),
      ...(place === undefined ? [] : [place]),
    ],
    wraps: true,
  };
}
