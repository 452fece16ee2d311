import { markup, lined, type Html } from '../html.ts';
import { PAPER_MM, type Paper } from '../paper.ts';
import { fitLabel, LABEL_LEADING, middleCut } from './fit.ts';
import { facesOf, gridOf, type Label, type LabelLayout } from './label.ts';

const PT_OF_MM = 72 / 25.4;
/** White between the edge of a label and its words, mm. */
const EDGE = 0.8;

/** Labels at their places on pages of their own, a piece of HTML for each page. */
export function* labelPages(labels: readonly Label[], layout: LabelLayout, paper: Paper): Generator<Html> {
  const size = PAPER_MM[paper];
  const strip = layout.form === 'strip';
  const grid = gridOf(layout, size);
  if (!grid) throw new Error('no label fits on the paper');
  const perPage = strip ? Infinity : grid.columns * grid.rows;
  for (let from = 0; from < labels.length; from += perPage) {
    const own = labels.slice(from, from + perPage).map((label, place) => {
      const column = place % grid.columns;
      const row = Math.floor(place / grid.columns);
      const left = strip ? 0 : layout.marginLeftMm + column * (layout.widthMm + layout.gapAcrossMm);
      const top = strip
        ? row * layout.heightMm
        : layout.marginTopMm + row * (layout.heightMm + layout.gapDownMm);
      return labelHtml(label, layout, { left, top });
    });
    const height = strip ? labels.length * layout.heightMm : size.heightMm - 1;
    yield markup`<div
      class="labels"
      style="width:${mm(strip ? layout.widthMm : size.widthMm)};height:${mm(height)}"
    >
      ${lined(own)}
    </div>`;
  }
}

const BREAK = markup`<br />`;
const mm = (value: number) => `${Math.round(value * 100) / 100}mm`;

function labelHtml(label: Label, layout: LabelLayout, { left, top }: { left: number; top: number }): Html {
  const faces = facesOf(layout).map((face) => {
    const area = {
      width: (face.widthMm - 2 * EDGE) * PT_OF_MM,
      height: (layout.heightMm - 2 * EDGE) * PT_OF_MM,
    };
    const { size, lines, bold } = fitLabel(label, area, estimated);
    const shown = lines.map((line) => shortened(line, area.width / size));
    return markup`<div
      class="face"
      style="left:${mm(face.atMm + EDGE)};top:${mm(EDGE)};width:${mm(face.widthMm - 2 * EDGE)};height:${mm(layout.heightMm - 2 * EDGE)};font-size:${size}pt;line-height:${LABEL_LEADING}"
    >
      ${shown.map((line, at) => markup`${at === 0 ? '' : BREAK}${at < bold ? markup`<b>${line}</b>` : line}`)}
    </div>`;
  });
  const fold = layout.kind === 'flag' ? markup`<i style="left:${mm(layout.widthMm / 2)}"></i>` : '';
  return markup`<div
    class="label"
    style="left:${mm(left)};top:${mm(top)};width:${mm(layout.widthMm)};height:${mm(layout.heightMm)}"
  >
    ${fold}${faces}
  </div>`;
}

/** Shortened in the middle to about so many letters' sizes. */
function shortened(line: string, most: number): string {
  const characters = Array.from(line);
  let kept = characters.length;
  while (kept > 0 && estimated(kept === characters.length ? line : middleCut(characters, kept)) > most)
    kept--;
  return kept === characters.length ? line : middleCut(characters, kept);
}

/** How wide words are in bold letters of size 1, on the wide side: what the reader's own font measures is not known here. */
function estimated(words: string): number {
  return Array.from(words).reduce((sum, character) => sum + widthOf(character), 0);
}

function widthOf(character: string): number {
  if (/[ijlI.,:;|!'’ ·()[\]tfr/-]/.test(character)) return 0.39;
  if (/[a-z0-9]/.test(character)) return /[mw]/.test(character) ? 0.9 : 0.62;
  return /[MW@]/.test(character) || character > '\u2000' ? 1.01 : 0.8;
}
