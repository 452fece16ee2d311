import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ArchiveLimits } from '../../api/archive/limits.ts';
import { entriesOf, summaryOf } from '../../api/archive/readArchive.ts';
import { HttpProblem } from '../../api/http/problem.ts';
import { archiveOf, packed, smallEntries } from '../support/archives.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'loomwright-archive-test-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const LIMITS: ArchiveLimits = { packedBytes: 1e6, unpackedBytes: 1e6, lineBytes: 1e5 };

/** Reads a file to its end: how many entries it has, or why it is refused. */
async function read(bytes: Uint8Array, limits = LIMITS): Promise<number | HttpProblem> {
  const file = join(folder, 'archive');
  writeFileSync(file, bytes);
  let entries = 0;
  try {
    for await (const { line } of entriesOf(file, limits)) {
      entries++;
      expect(line).toBe(entries + 1);
    }
    return entries;
  } catch (error) {
    if (error instanceof HttpProblem) return error;
    throw error;
  }
}

async function refusal(bytes: Uint8Array, limits = LIMITS): Promise<HttpProblem> {
  const got = await read(bytes, limits);
  if (typeof got === 'number') throw new Error(`${got} entries were read from what is to be refused`);
  return got;
}

const whole = () => archiveOf(smallEntries());
const withLine = (number: number, text: string) => whole().with(number - 1, text);

describe('an archive', () => {
  test('is read entry by entry, and tells what it holds once all of it was read', async () => {
    expect(await read(packed(whole()))).toBe(smallEntries().length);
    const { header, counts } = await summaryOf(join(folder, 'archive'), LIMITS);
    expect(header.club).toBe('A club');
    expect(counts).toMatchObject({ club: 1, part: 2, offer: 2, loom: 1, revision: 2, quote: 0, audit: 1 });
  });

  test('that is cut off is refused, wherever that is', async () => {
    const bytes = packed(whole());
    await fc.assert(
      fc.asyncProperty(fc.nat(bytes.length - 1), async (length) => {
        expect(await read(bytes.slice(0, length))).toBeInstanceOf(HttpProblem);
      }),
      { numRuns: 25 },
    );
    const lines = whole();
    for (let length = 0; length < lines.length; length++)
      expect(await read(packed(lines.slice(0, length)))).toBeInstanceOf(HttpProblem);
  });

  test('is refused where any line is missing, stands twice, was changed or stands elsewhere', async () => {
    const lines = whole();
    const within = fc.nat(lines.length - 1);
    await fc.assert(
      fc.asyncProperty(within, within, async (from, to) => {
        const text = lines[from] ?? '';
        expect(await read(packed(lines.toSpliced(from, 1)))).toBeInstanceOf(HttpProblem);
        expect(await read(packed(lines.toSpliced(from, 0, text)))).toBeInstanceOf(HttpProblem);
        if (from !== to)
          expect(await read(packed(lines.toSpliced(from, 1).toSpliced(to, 0, text)))).toBeInstanceOf(
            HttpProblem,
          );
      }),
      { numRuns: 25 },
    );
    const changed = lines.map((line) => line.replace('1 mm² red', '2 mm² red'));
    expect((await refusal(packed(changed))).message).toMatch(/SHA-256 in its last line, 12,/);
  });

  test.each([
    ['is no gzip', () => new TextEncoder().encode(whole().join('\n')), 'not packed with gzip'],
    [
      'is something else',
      () => packed(['{"format":"loomwright-job","version":1}']),
      'not an archive of a club',
    ],
    ['is empty', () => packed([]), 'not an archive of a club'],
    [
      'is of a later version',
      () => packed(withLine(1, '{"format":"loomwright-archive","version":2}')),
      'of version 2, and this server reads version 1',
    ],
    [
      'has a line that is not JSON',
      () => packed(withLine(4, '{"type":"part",}')),
      'Line 4 is not JSON: column 16',
    ],
    ['has an empty line', () => packed(whole().toSpliced(3, 0, '')), 'Line 4 is empty'],
    ['has a line that is no object', () => packed(withLine(4, '[]')), 'Line 4 is not an object'],
    [
      'is nested too deep',
      () => packed(withLine(4, `{"a":${'['.repeat(1000)}`)),
      'Line 4 is nested too deep',
    ],
    ['goes on after its end', () => packed([...whole(), '{}']), 'has ended, but line 13 follows'],
    [
      'is not UTF-8',
      () =>
        new Uint8Array(gzipSync(Buffer.concat([Buffer.from(`${whole()[0]}\n`), Buffer.from([0xff, 0x0a])]))),
      'Line 2 of the archive is not UTF-8',
    ],
    [
      'counts otherwise',
      () => packed(whole().map((line) => line.replace('"part":2', '"part":3'))),
      'counts 3 of type part, and 2',
    ],
  ])('that %s is refused with the reason', async (_what, bytes, why) => {
    const problem = await refusal(bytes());
    expect([problem.kind, problem.message]).toEqual(['malformed-request', expect.stringContaining(why)]);
  });

  test('with an entry that the API would refuse is refused with its line and all its faults', async () => {
    const entries = smallEntries();
    const bad = { ...entries[1], body: { kind: 'terminal', code: 'ring 6', terminalType: 'ring', x: 1 } };
    const problem = await refusal(packed(archiveOf(entries.with(1, bad as (typeof entries)[number]))));
    expect(problem.kind).toBe('not-valid');
    expect(problem.findings?.map(({ where, at }) => [where.split(',')[0], at])).toEqual(
      expect.arrayContaining([
        ['line 3', '/body/code'],
        ['line 3', '/body/description'],
        ['line 3', '/body/x'],
      ]),
    );
    const unknown = await refusal(packed(archiveOf([...entries, { type: 'key' }] as typeof entries)));
    expect(unknown.findings).toMatchObject([{ where: 'line 12, type', found: '"key"' }]);
  });

  test('with a text that no database stores is refused with its place', async () => {
    const entries = smallEntries();
    const bad = { ...entries[3], body: { code: 'shop', name: 'A\u0000B', currency: 'GBP' } };
    const problem = await refusal(packed(archiveOf(entries.with(3, bad as (typeof entries)[number]))));
    expect(problem.findings).toMatchObject([
      { code: 'unstorable-text', at: '/body/name', where: 'line 5, body, name' },
    ]);
  });

  test('whose line or whose lines unpack to more than the limits is refused before they are taken in', async () => {
    const bomb = new Uint8Array(gzipSync(Buffer.alloc(50e6, 0x20)));
    expect(bomb.length).toBeLessThan(1e5);
    expect(await refusal(bomb)).toMatchObject({
      kind: 'too-large',
      message: expect.stringMatching(/^Line 1 of the archive is longer than 100000 bytes/) as string,
    });
    const lines = await refusal(packed(whole()), { ...LIMITS, unpackedBytes: 1000 });
    expect(lines).toMatchObject({
      kind: 'too-large',
      message: expect.stringContaining('unpacks to more than 1000 bytes') as string,
    });
  });
});
