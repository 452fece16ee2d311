import type { Block, Column, Section } from './block.ts';
import { escaped } from './html.ts';

/** A group of no more rows than this is not split over pages. */
const TOGETHER = 12;

/** A block as HTML; all its text is escaped. */
function blockHtml(block: Block): string {
  switch (block.form) {
    case 'text':
      return `<p>${prose(block.text)}</p>`;
    case 'head':
      return `<h3>${escaped(block.text)}</h3>`;
    case 'list':
      return `<ul>\n${block.items.map((item) => `<li>${prose(item)}</li>`).join('\n')}\n</ul>`;
    case 'table':
      return tableHtml(
        block.columns,
        `<tbody${block.totalled === true ? ' class="totalled"' : ''}>\n${rowsHtml(block.columns, block.rows)}\n</tbody>`,
      );
    case 'groups':
      return tableHtml(
        block.columns,
        block.groups
          .map(
            ({ head, rows }) =>
              `<tbody${rows.length > TOGETHER ? '' : ' class="together"'}>\n<tr class="group"><th colspan="${block.columns.length}" scope="rowgroup">${prose(head)}</th></tr>\n${rowsHtml(block.columns, rows)}\n</tbody>`,
          )
          .join('\n'),
      );
    case 'sums':
      return sumsHtml(block.rows);
  }
}

export function blocksHtml(blocks: readonly Block[]): string {
  return blocks.map(blockHtml).join('\n');
}

/** Sections under titles; those without blocks are left out. */
export function sectionsHtml(sections: readonly Section[]): string {
  return sections
    .filter(({ blocks }) => blocks.length > 0)
    .map(({ title, blocks }) => `<section>\n<h2>${escaped(title)}</h2>\n${blocksHtml(blocks)}\n</section>`)
    .join('\n');
}

function tableHtml(columns: readonly Column[], body: string): string {
  const heads = columns.map((column) => `<th${classOf(column)}>${escaped(column.head)}</th>`).join('');
  return `<table>\n<thead>\n<tr>${heads}</tr>\n</thead>\n${body}\n</table>`;
}

function rowsHtml(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  return rows
    .map((row) => `<tr>${columns.map((column, at) => cellHtml(column, row[at] ?? '')).join('')}</tr>`)
    .join('\n');
}

function cellHtml(column: Column, cell: string): string {
  if (column.boxed !== undefined && cell.startsWith(column.boxed))
    return `<td${classOf(column)}><span class="exact">${escaped(cell)}</span></td>`;
  return `<td${classOf(column)}>${column.tick === true ? BOX : cellWords(column, cell)}</td>`;
}

/** A word of more characters than this may be broken anywhere; a shorter one is kept whole, its hyphens too. */
const LONG_WORD = 26;

/** Text of a cell, escaped. Codes are not broken at their hyphens; a short cell of a column that does not wrap is kept whole. */
function cellWords({ wraps = false }: Column, cell: string): string {
  if (!wraps && cell.length <= LONG_WORD) return `<span class="whole">${escaped(cell)}</span>`;
  const words = cell.split(' ').map((word) => {
    if (word.length > LONG_WORD) return `<span class="long">${escaped(word)}</span>`;
    return /[-/]/.test(word) ? `<span class="whole">${escaped(word)}</span>` : escaped(word);
  });
  return unitsKept(words.join(' '));
}

/** Escaped text in which a number stays beside its unit. */
function unitsKept(html: string): string {
  return html.replaceAll(/(\d) (?=(?:m|mm|mm²|%|A)(?:[\s.,;:)]|$))/g, '$1&nbsp;');
}

const prose = (words: string) => unitsKept(escaped(words));

/** A box to tick. */
export const BOX = '<span class="box"></span>';

function classOf({ align, wraps = false, tick = false }: Column): string {
  if (tick) return ' class="tick"';
  if (align === 'right') return ' class="number"';
  return wraps ? '' : ' class="short"';
}

function sumsHtml(rows: readonly (readonly [string, string])[]): string {
  const lines = rows.map(
    ([label, amount], index) =>
      `<tr${index === rows.length - 1 ? ' class="total"' : ''}><th scope="row">${escaped(label)}</th><td class="number">${escaped(amount)}</td></tr>`,
  );
  return `<table class="sums">\n${lines.join('\n')}\n</table>`;
}
