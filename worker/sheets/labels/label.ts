/** What one label says: its rows, the most important first. */
export interface Label {
  rows: readonly string[];
  /** The first row is a name that may take several lines. */
  wraps?: boolean;
}

/** How labels are printed; all lengths in mm. */
export interface LabelLayout {
  /**
   * sleeve: the words once. flag: twice, left and right of a fold line, for a label that is folded round the wire and stuck to
   * itself.
   */
  kind: 'sleeve' | 'flag';
  /** sheet: many labels on a page. strip: each is a page of its own, for a printer of labels. */
  form: 'sheet' | 'strip';
  widthMm: number;
  heightMm: number;
  /** Labels beside each other; left out: as many as fit. */
  columns?: number | undefined;
  /** From the upper and the left edge of the paper to the first label. */
  marginTopMm: number;
  marginLeftMm: number;
  /** Between labels. */
  gapAcrossMm: number;
  gapDownMm: number;
}

/** A size that the slips of common label sheets and 10 mm sleeves take: common practice, no source. */
export const DEFAULT_LABELS: LabelLayout = {
  kind: 'sleeve',
  form: 'sheet',
  widthMm: 45,
  heightMm: 12,
  marginTopMm: 15,
  marginLeftMm: 12,
  gapAcrossMm: 2,
  gapDownMm: 2,
};

/** Where the labels stand on a page. */
export interface Grid {
  columns: number;
  rows: number;
}

/** How many labels fit on a paper; undefined where not even one does. */
export function gridOf(layout: LabelLayout, paper: { widthMm: number; heightMm: number }): Grid | undefined {
  const { widthMm, heightMm, columns, marginTopMm, marginLeftMm, gapAcrossMm, gapDownMm } = layout;
  if (layout.form === 'strip') return { columns: 1, rows: 1 };
  const fitting = (room: number, each: number, gap: number) => Math.floor((room + gap + 1e-6) / (each + gap));
  // A stated number of columns is believed if the labels are on the paper; else the right margin is as the left one.
  const across = fitting(
    paper.widthMm - marginLeftMm * (columns === undefined ? 2 : 1),
    widthMm,
    gapAcrossMm,
  );
  const down = fitting(paper.heightMm - marginTopMm, heightMm, gapDownMm);
  if (across < (columns ?? 1) || down < 1) return undefined;
  return { columns: columns ?? across, rows: down };
}

/** The places of the words on a label: two halves of a flag, or the whole of a sleeve. */
export function facesOf({
  kind,
  widthMm,
}: Pick<LabelLayout, 'kind' | 'widthMm'>): { atMm: number; widthMm: number }[] {
  if (kind === 'sleeve') return [{ atMm: 0, widthMm }];
  return [0, 1].map((half) => ({ atMm: (half * widthMm) / 2, widthMm: widthMm / 2 }));
}
