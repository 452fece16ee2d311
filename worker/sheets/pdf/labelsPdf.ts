import { facesOf, gridOf, type Label, type LabelLayout } from '../labels/label.ts';
import { fitLabel, LABEL_LEADING } from '../labels/fit.ts';
import { PT, type Ink, type PageSize } from './ink.ts';
import { inOneLine } from './wrap.ts';

/** White between the edge of a label and its words. */
const EDGE_MM = 0.8;

/** Labels at their places on paper, a page after the other; in a strip each on a page of its own size. */
export function putLabels(
  ink: Ink,
  { labels, layout }: { labels: readonly Label[]; layout: LabelLayout },
  paper: PageSize,
): void {
  const grid = gridOf(layout, { widthMm: paper.widthPt / PT, heightMm: paper.heightPt / PT });
  if (!grid) throw new Error('no label fits on the paper');
  const size =
    layout.form === 'strip' ? { widthPt: layout.widthMm * PT, heightPt: layout.heightMm * PT } : paper;
  const perPage = grid.columns * grid.rows;
  labels.forEach((label, index) => {
    const place = index % perPage;
    if (place === 0) ink.newPage(size);
    const column = place % grid.columns;
    const row = Math.floor(place / grid.columns);
    const strip = layout.form === 'strip';
    putLabel(ink, label, layout, {
      x: strip ? 0 : (layout.marginLeftMm + column * (layout.widthMm + layout.gapAcrossMm)) * PT,
      y: strip ? 0 : (layout.marginTopMm + row * (layout.heightMm + layout.gapDownMm)) * PT,
    });
  });
}

function putLabel(ink: Ink, label: Label, layout: LabelLayout, { x, y }: { x: number; y: number }): void {
  const width = layout.widthMm * PT;
  const height = layout.heightMm * PT;
  if (layout.form === 'sheet') ink.box(x, y, width, height, { line: 0.25 });
  const faces = facesOf(layout);
  if (faces.length > 1)
    ink.line(
      [
        [x + width / 2, y],
        [x + width / 2, y + height],
      ],
      0.25,
      true,
    );
  for (const face of faces) {
    const area = { width: (face.widthMm - 2 * EDGE_MM) * PT, height: (layout.heightMm - 2 * EDGE_MM) * PT };
    // Bold is the wider of both: what fits in it fits.
    const { size, lines, bold } = fitLabel(label, area, (words) =>
      ink.widthOf(words, { face: 'bold', size: 1 }),
    );
    const leading = size * LABEL_LEADING;
    const top = y + EDGE_MM * PT + (area.height - lines.length * leading) / 2;
    lines.forEach((line, at) => {
      const font = { face: at < bold ? ('bold' as const) : ('regular' as const), size };
      const shown = inOneLine(ink, line, area.width, font);
      ink.words(shown, x + (face.atMm + EDGE_MM) * PT, top + at * leading + size * 0.86, font);
    });
  }
}
