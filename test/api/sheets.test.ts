import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hasPdfReader, pagesOf } from '../sheets/readPdf.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';

let house: TestHouse;
let editor: Client;
let quote: string;
const tooEarly: number[] = [];

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  const asked = await editor.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
  quote = asked.headers.get('location') ?? '';
  // No worker is there yet.
  for (const end of ['', '/cutting', '/all?format=pdf'])
    tooEarly.push((await editor.get(`${quote}/sheets${end}`)).status);
  await house.startWorker();
  // Its events end when the task does.
  await editor.get(`${asked.json<{ task: string }>().task}/events`);
});
afterAll(() => house.close());

describe('the sheets of a quote', () => {
  test('are 409 until it is ready', () => {
    expect(tooEarly).toEqual([409, 409, 409]);
  });

  test('are listed in the order of work with paths that can be read, and all of them in one', async () => {
    const { items } = (await editor.get(`${quote}/sheets`)).json<{
      items: { sheet: string; formats: { format: string; path: string }[] }[];
    }>();
    expect(items.map(({ sheet }) => sheet)).toEqual([
      'quote',
      'orders',
      'cutting',
      'labels',
      'build',
      'test',
      'all',
    ]);
    const types = {
      html: 'text/html; charset=utf-8',
      pdf: 'application/pdf',
      csv: 'text/csv; charset=utf-8',
      text: 'text/plain; charset=utf-8',
    };
    for (const { formats } of items)
      for (const { format, path } of formats) {
        const got = await editor.get(path);
        expect([path, got.status, got.headers.get('content-type')]).toEqual([
          path,
          200,
          types[format as 'pdf'],
        ]);
        expect(got.bytes.length).toBeGreaterThan(50);
      }
  });

  test('come in the form that Accept likes best, where none is stated', async () => {
    const of = async (accept: string, sheet = 'cutting') => {
      const got = await editor.get(`${quote}/sheets/${sheet}`, { accept });
      return got.status === 200 ? got.headers.get('content-type')?.split(';')[0] : got.status;
    };
    expect(await of('text/html,application/xhtml+xml,*/*;q=0.8')).toBe('text/html');
    expect(await of('text/csv;q=0.5, application/pdf')).toBe('application/pdf');
    expect(await of('*/*')).toBe('text/html');
    expect(await of('text/*;q=0.3, text/plain')).toBe('text/plain');
    expect(await of('application/json')).toBe(406);
    expect(await of('text/csv', 'quote')).toBe(406);
    expect(await of('text/csv, text/html;q=0', 'quote')).toBe(406);
  });

  test('that cannot be had so are refused in words: 406 names the forms, 404 a sheet that is none, 422 a query', async () => {
    const none = await editor.get(`${quote}/sheets/quote?format=csv`);
    expect([none.status, none.json()['detail']]).toEqual([
      406,
      expect.stringContaining('format=html, format=pdf, format=text'),
    ]);
    expect((await editor.get(`${quote}/sheets/all?format=text`)).status).toBe(406);
    expect((await editor.get(`${quote}/sheets/cuting`)).status).toBe(404);
    expect((await editor.get(`${quote}/sheets/cutting?format=doc`)).status).toBe(422);
    const large = await editor.get(`${quote}/sheets/labels?labelWidthMm=250`);
    expect([large.status, large.text]).toEqual([422, expect.stringContaining('labels of 250 × 12 mm')]);
    expect((await editor.get('/v1/quotes/00000000-0000-7000-8000-000000000000/sheets')).status).toBe(404);
  });

  test('have an ETag, which is another for another form, and are not sent to whom has them', async () => {
    const first = await editor.get(`${quote}/sheets/test?format=text`);
    const etag = first.headers.get('etag') ?? '';
    const again = await editor.get(`${quote}/sheets/test?format=text`, { 'if-none-match': etag });
    expect([again.status, again.text]).toEqual([304, '']);
    expect((await editor.get(`${quote}/sheets/test?format=html`)).headers.get('etag')).not.toBe(etag);
  });

  test('run nothing and load nothing as pages', async () => {
    const page = await editor.get(`${quote}/sheets/all?format=html&paper=letter`);
    expect(page.headers.get('content-security-policy')).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline';/,
    );
    expect(page.text).toContain('size: letter;');
    expect(page.text).not.toMatch(/<script|https?:|src=/);
  });

  test('of another club are 404', async () => {
    const other = await (await house.club()).as('viewer');
    expect((await other.get(`${quote}/sheets`)).status).toBe(404);
    expect((await other.get(`${quote}/sheets/all?format=pdf`)).status).toBe(404);
  });

  test.skipIf(!hasPdfReader)(
    'are one PDF with all, each page numbered of how many, in labels of the size asked for',
    async () => {
      const pages = pagesOf((await editor.get(`${quote}/sheets/all?format=pdf&paper=letter`)).bytes);
      const said = pages.join('\n');
      for (const title of [
        'Quote as of',
        'Order lists',
        'Cutting sheet',
        'Label sheet',
        'Build sheet',
        'Test sheet',
      ])
        expect(said).toContain(title);
      expect(said).toContain(`page 1 of ${pages.length}`);
      const strip = await editor.get(
        `${quote}/sheets/labels?format=pdf&labelForm=strip&labelWidthMm=60&labelHeightMm=9`,
      );
      expect(pagesOf(strip.bytes).join('\n')).not.toContain('page 1 of');
    },
  );
});
