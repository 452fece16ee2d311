/** The papers that sheets are printed on. */
export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

/** Width and height, mm: ISO 216 A4; ANSI/ASME Y14.1 Letter. */
export const PAPER_MM: Record<Paper, { widthMm: number; heightMm: number }> = {
  a4: { widthMm: 210, heightMm: 297 },
  letter: { widthMm: 215.9, heightMm: 279.4 },
};
