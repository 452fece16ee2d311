import type { Block, Column, Row, Section } from './block.ts';
import { markup, lined, type Html } from './html.ts';
import { labelPages } from './labels/labelsHtml.ts';
import type { Paper } from './paper.ts';
import { svg } from './pictures/svg.ts';

/** A group of no more rows than this is not split over pages. */
const TOGETHER = 12;

/** Rows of a long table are handed on so many at a time. */
const ROWS_AT_ONCE = 200;

/** A block as HTML, in pieces of a bounded number of rows, so that a long one need not be held whole. */
function* blockPieces(block: Block, paper: Paper = 'a4'): Generator<Html> {
  switch (block.form) {
    case 'text':
      yield markup`<p>${prose(block.text)}</p>`;
      break;
    case 'head':
      yield markup`<h3>${block.text}</h3>`;
      break;
    case 'list':
      yield markup`<ul>
${lined(block.items.map((item) => markup`<li>${prose(item)}</li>`))}
</ul>`;
      break;
    case 'table':
      yield tableStart(block.columns);
      yield block.totalled === true ? markup`<tbody class="totalled">` : markup`<tbody>`;
      yield* rowPieces(block.columns, block.rows);
      yield TABLE_END;
      break;
    case 'groups':
      yield* groupPieces(block);
      yield markup`</table>`;
      break;
    case 'sums':
      yield sumsHtml(block.rows);
      break;
    case 'picture':
      yield svg(block.picture);
      break;
    case 'labels':
      yield* labelPages(block.labels, block.layout, paper);
  }
}

/** Blocks as HTML. */
export function blocksHtml(blocks: readonly Block[]): Html {
  return lined(blocks.flatMap((block) => [...blockPieces(block)]));
}

/** Sections under titles, in pieces, for that paper where places on it matter; those without blocks are left out. */
export function* sectionPieces(sections: readonly Section[], paper: Paper = 'a4'): Generator<Html> {
  for (const { title, blocks, newPage = false } of sections) {
    if (blocks.length === 0) continue;
    yield newPage ? markup`<section class="page">` : markup`<section>`;
    if (title !== '') yield markup`<h2>${title}</h2>`;
    for (const block of blocks) yield* blockPieces(block, paper);
    yield markup`</section>`;
  }
}

/** The same whole. */
export function sectionsHtml(sections: readonly Section[]): Html {
  return lined([...sectionPieces(sections)]);
}

function tableStart(columns: readonly Column[]): Html {
  const heads = columns.map((column) => markup`<th${classOf(column)}>${column.head}</th>`);
  return markup`<table>
    <thead>
      <tr>
        ${heads}
      </tr>
    </thead>`;
}

const TABLE_END = markup`</tbody>
</table>`;

function* groupPieces({ columns, groups }: Extract<Block, { form: 'groups' }>): Generator<Html> {
  yield tableStart(columns);
  for (const { head, rows } of groups) {
    yield rows.length > TOGETHER ? markup`<tbody>` : markup`<tbody class="together">`;
    yield markup`<tr class="group">
      <th colspan="${columns.length}" scope="rowgroup">${prose(head)}</th>
    </tr>`;
    yield* rowPieces(columns, rows);
    yield markup`</tbody>`;
  }
}

function* rowPieces(columns: readonly Column[], rows: readonly Row[]): Generator<Html> {
  for (let at = 0; at < rows.length; at += ROWS_AT_ONCE)
    yield lined(rows.slice(at, at + ROWS_AT_ONCE).map((row) => rowHtml(columns, row)));
}

function rowHtml(columns: readonly Column[], row: Row): Html {
  return markup`<tr>
    ${columns.map((column, at) => cellHtml(column, row[at] ?? ''))}
  </tr>`;
}

function cellHtml(column: Column, cell: string): Html {
  if (column.boxed !== undefined && cell.startsWith(column.boxed))
    return markup`<td${classOf(column)}><span class="exact">${cell}</span></td>`;
  if (column.writeMm !== undefined && cell === '')
    return markup`<td${classOf(column)}><span class="write" style="width:${column.writeMm}mm"></span></td>`;
  return markup`<td${classOf(column)}>${column.tick === true ? BOX : cellWords(column, cell)}</td>`;
}

/** A word of more characters than this may be broken anywhere; a shorter one is kept whole, its hyphens too. */
const LONG_WORD = 26;

/** Text of a cell. Codes are not broken at their hyphens; a short cell of a column that does not wrap is kept whole. */
function cellWords({ wraps = false }: Column, cell: string): Html {
  if (!wraps && cell.length <= LONG_WORD) return markup`<span class="whole">${cell}</span>`;
  const words = unitsKept(cell).split(' ');
  return markup`${words.map((word, at) => {
    const space = at === 0 ? '' : ' ';
    if (word.length > LONG_WORD) return markup`${space}<span class="long">${word}</span>`;
    return /[-/]/.test(word) ? markup`${space}<span class="whole">${word}</span>` : `${space}${word}`;
  })}`;
}

/** Text in which a number stays beside its unit. */
function unitsKept(text: string): string {
  return text.replaceAll(/(\d) (?=(?:m|mm|mm²|%|A)(?:[\s.,;:)]|$))/g, `$1${NO_BREAK_SPACE}`);
}

const NO_BREAK_SPACE = '\u00a0';

const prose = unitsKept;

/** A box to tick. */
export const BOX = markup`<span class="box"></span>`;

function classOf({ align, wraps = false, tick = false }: Column): Html | string {
  if (tick) return markup` class="tick"`;
  if (align === 'right') return markup` class="number"`;
  return wraps ? '' : markup` class="short"`;
}

function sumsHtml(rows: readonly (readonly [string, string])[]): Html {
  const lines = rows.map(
    ([label, amount], index) =>
      markup`<tr${index === rows.length - 1 ? markup` class="total"` : ''}><th scope="row">${label}</th><td class="number">${amount}</td></tr>`,
  );
  return markup`<table class="sums">
    ${lined(lines)}
  </table>`;
}
