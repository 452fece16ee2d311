import type { Block, Section } from './block.ts';
import { groupedTable, PAGE, pairs, paragraph, textTable } from './textTable.ts';

/** A block as text, at most PAGE characters wide, without a line end at its end. */
function blockText(block: Block): string {
  switch (block.form) {
    case 'text':
      return paragraph(block.text);
    case 'head':
      return paragraph(`${block.text}:`);
    case 'list':
      return block.items.map((item) => paragraph(item, '- ')).join('\n');
    case 'table':
      return textTable(block.columns, block.rows);
    case 'groups':
      return groupedTable(block.columns, block.groups);
    case 'sums':
      return pairs(block.rows, 'right');
    case 'picture':
      return '';
    case 'labels':
      return block.labels.map(({ rows }) => paragraph(rows.join(' · '), '- ')).join('\n');
  }
}

/** Blocks with an empty line between them; a heading stands right over what it is of, a list right under its words. */
export function blocksText(blocks: readonly Block[]): string {
  return blocks
    .filter(({ form }) => form !== 'picture')
    .map((block, index, shown) => {
      const before = shown[index - 1];
      const close = before?.form === 'head' || (block.form === 'list' && before?.form === 'text');
      return `${before === undefined ? '' : close ? '\n' : '\n\n'}${blockText(block)}`;
    })
    .join('');
}

/** Sections under ruled titles; those without blocks are left out. */
export function sectionsText(sections: readonly Section[]): string {
  return sections
    .filter(({ blocks }) => blocks.some(({ form }) => form !== 'picture'))
    .map(({ title, blocks }) => `${title === '' ? '' : `${ruled(title)}\n\n`}${blocksText(blocks)}`)
    .join('\n\n\n');
}

export function ruled(title: string): string {
  return `== ${title} ${'='.repeat(PAGE - title.length - 4)}`;
}
