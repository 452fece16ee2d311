import { z } from 'zod';
import { DEFAULT_LABELS, gridOf, type LabelLayout } from '../../worker/sheets/labels/label.ts';
import { PAPER_MM, PAPERS, type Paper } from '../../worker/sheets/paper.ts';
import { HttpProblem } from '../http/problem.ts';

const mm = (least: number, most: number) => z.coerce.number().min(least).max(most).optional();
const by = (value: number) => `Left out: ${value}.`;

/** How sheets are printed, as a query states it. */
export const printQuery = {
  paper: z.enum(PAPERS).optional().meta({
    description:
      'a4 or letter. Left out: A4; an HTML page without it takes the size of your printer’s paper.',
  }),
  labelKind: z.enum(['sleeve', 'flag']).optional().meta({
    description:
      'sleeve: the words once. flag: twice, left and right of a fold line, for a label that is folded round the wire. Left out: sleeve.',
  }),
  labelForm: z.enum(['sheet', 'strip']).optional().meta({
    description:
      'sheet: many labels on a page. strip: a continuous strip for a label printer; in the PDF each label is a page of its own size. Left out: sheet.',
  }),
  labelWidthMm: mm(5, 300).meta({ description: `Width of a label, mm. ${by(DEFAULT_LABELS.widthMm)}` }),
  labelHeightMm: mm(3, 300).meta({ description: `Height of a label, mm. ${by(DEFAULT_LABELS.heightMm)}` }),
  labelColumns: z.coerce.number().int().min(1).max(100).optional().meta({
    description: 'Labels side by side. Left out: as many as fit.',
  }),
  labelMarginTopMm: mm(0, 100).meta({
    description: `From the upper edge of the paper to the first label, mm. ${by(DEFAULT_LABELS.marginTopMm)}`,
  }),
  labelMarginLeftMm: mm(0, 100).meta({
    description: `From the left edge of the paper to the first label, mm. ${by(DEFAULT_LABELS.marginLeftMm)}`,
  }),
  labelGapAcrossMm: mm(0, 100).meta({
    description: `Between labels side by side, mm. ${by(DEFAULT_LABELS.gapAcrossMm)}`,
  }),
  labelGapDownMm: mm(0, 100).meta({
    description: `Between labels one below the other, mm. ${by(DEFAULT_LABELS.gapDownMm)}`,
  }),
};

/** The layout that a query states. Problem: 422 where no label fits on the paper. */
export function labelsOf(query: z.infer<z.ZodObject<typeof printQuery>>, paper: Paper): LabelLayout {
  const layout: LabelLayout = {
    kind: query.labelKind ?? DEFAULT_LABELS.kind,
    form: query.labelForm ?? DEFAULT_LABELS.form,
    widthMm: query.labelWidthMm ?? DEFAULT_LABELS.widthMm,
    heightMm: query.labelHeightMm ?? DEFAULT_LABELS.heightMm,
    columns: query.labelColumns,
    marginTopMm: query.labelMarginTopMm ?? DEFAULT_LABELS.marginTopMm,
    marginLeftMm: query.labelMarginLeftMm ?? DEFAULT_LABELS.marginLeftMm,
    gapAcrossMm: query.labelGapAcrossMm ?? DEFAULT_LABELS.gapAcrossMm,
    gapDownMm: query.labelGapDownMm ?? DEFAULT_LABELS.gapDownMm,
  };
  const { widthMm, heightMm } = PAPER_MM[paper];
  if (gridOf(layout, PAPER_MM[paper])) return layout;
  throw new HttpProblem('not-valid', 'The labels do not fit on the paper.', {
    findings: [
      {
        code: 'label-too-large',
        severity: 'stop',
        at: '/labelWidthMm',
        where: 'query',
        found: `labels of ${layout.widthMm} × ${layout.heightMm} mm${layout.columns === undefined ? '' : ` in ${layout.columns} columns`}`,
        limit: `paper of ${widthMm} × ${heightMm} mm with the margins`,
        todo: 'State smaller labels, fewer columns or smaller margins; or ask for labelForm=strip.',
      },
    ],
  });
}
