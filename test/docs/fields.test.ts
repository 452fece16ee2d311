import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { withShort } from '../../worker/engine/model/short/form.ts';
import { fieldsPage, TOP } from './fields/page.ts';
import { problemsPage } from './fields/problemsPage.ts';
import { rowsOf } from './fields/rows.ts';
import { Samples } from './fields/samples.ts';
import { fieldsOf } from './fields/schema.ts';
import { allWords } from './fields/words.ts';

const page = readFileSync(new URL('../../docs/fields.md', import.meta.url), 'utf8');

/** The names of all fields that a JSON Schema has, wherever they stand. */
function namesIn(schema: unknown): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  const { properties = {} } = schema as { properties?: object };
  return [...Object.keys(properties), ...Object.values(schema).flatMap(namesIn)];
}

test('the page of problems is what `npm run docs:fields` writes; run it after a change of their words', () => {
  const problems = readFileSync(new URL('../../docs/problems.md', import.meta.url), 'utf8');
  expect(problems).toBe(problemsPage());
});

describe('the page of fields', () => {
  test('is what `npm run docs:fields` writes; run it after a change of the model or of the examples', () => {
    expect(page).toBe(fieldsPage());
  });

  test('has every field that the model takes, as JSON Schema lists them', () => {
    const names = new Set(
      TOP.flatMap((schema) => namesIn(z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }))),
    );
    expect(names.size).toBeGreaterThan(150);
    const isTold = (name: string) =>
      new RegExp(`^\\| \`([a-zA-Z[\\].]+\\.)?${name}\` \\||^\`${name}\` says which`, 'm').test(page);
    expect([...names].filter((name) => !isTold(name))).toEqual([]);
  });

  test('leads with each link to a heading of its own', () => {
    const slugs = [...page.matchAll(/^#+ (.+)$/gm)].map(([, title = '']) =>
      title
        .toLowerCase()
        .replaceAll(/[^a-z0-9 -]/g, '')
        .replaceAll(' ', '-'),
    );
    const links = [...page.matchAll(/\]\(#([^)]+)\)/g)].map(([, link = '']) => link);
    expect(links.length).toBeGreaterThan(100);
    for (const link of links) expect(slugs.filter((slug) => slug === link)).toEqual([link]);
  });

  test('speaks no programmer’s words, and has use for all words that are kept for it', () => {
    expect(page).not.toMatch(/\b(zod|schema|enum|boolean|regex|undefined|null|array|integer|float)\b/i);
    for (const words of allWords()) expect(page).toContain(words);
  });
});

describe('a row of it', () => {
  const rowOf = (field: z.ZodType, name = 'size') => {
    const object = z.strictObject({ [name]: field });
    const around = {
      samples: new Samples(),
      linkOf: (id: string) => id,
      wordsOf: () => '',
      defaultOf: () => undefined,
    };
    return rowsOf('Test', object, fieldsOf(object), around)[0];
  };

  test('tells the short ways of writing a value, of the field or of what it holds', () => {
    const text = withShort(z.string().meta({ example: 'a' }), {
      examples: ['44/0.30', '1.5 mm²'],
      read: (value) => ({ value }),
    });
    expect(rowOf(text)?.example).toBe('`"a"`, or short: `44/0.30` or `1.5 mm²`');
    expect(rowOf(text.optional())?.example).toBe('`"a"`, or short: `44/0.30` or `1.5 mm²`');
  });

  test('tells the narrowest limits of a number, its unit, and what holds where it is left out', () => {
    const percent = z.number().min(0).max(1_000).max(99.5).default(5);
    expect(rowOf(percent, 'sparePercent')).toMatchObject({
      takes: 'number, %; at least 0; at most 99.5',
      needed: 'no',
      fallback: '`5`',
    });
    expect(rowOf(z.int().gt(0).lt(12_000), 'lengthMm')).toMatchObject({
      takes: 'whole number, mm; more than 0; less than 12,000',
      needed: 'yes',
      fallback: '',
    });
  });
});
