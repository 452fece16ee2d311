import { describe, expect, test } from 'vitest';
import { acceptFindings } from '../../../worker/engine/loom/checks/accepted.ts';
import { askedLooms } from '../../../worker/engine/loom/asked.ts';
import type { Finding } from '../../../worker/engine/model/finding.ts';
import { jobOf, points, priced } from '../fixtures.ts';
import { connector, foundIn, inTerminal, terminalOf, type LoomInput } from './told.ts';

const tooBig = (asOriginal: LoomInput['asOriginal'] = []) =>
  connector(
    [terminalOf('t', { wireMinMm2: 2.5 })],
    [inTerminal('t'), inTerminal('t')],
    {},
    { loom: { asOriginal } },
  );
const accept = (subject: string, finding = 'terminal-range') => ({
  finding,
  subject,
  note: 'so it left the works',
});

describe('what a loom accepts as original', () => {
  test('is a note that says why, and no other finding of that code is', () => {
    expect(foundIn(tooBig())).toMatchObject([{ severity: 'stop' }, { severity: 'stop' }]);
    const found = foundIn(tooBig([accept('wire:W2:from')]));
    expect(found).toHaveLength(2);
    expect(found).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ subject: 'wire:W1:from', severity: 'stop' }),
        expect.objectContaining({
          subject: 'wire:W2:from',
          severity: 'note',
          accepted: 'so it left the works',
          limit: 'at least 2.5 mm²',
        }),
      ]),
    );
    expect(found.find(({ subject }) => subject === 'wire:W1:from')).not.toHaveProperty('accepted');
  });

  test('stands in the quote after what is not accepted', async () => {
    const { findings } = await priced(tooBig([accept('wire:W1:from')]));
    expect(findings.map(({ severity, subject }) => [severity, subject])).toContainEqual([
      'note',
      'wire:W1:from',
    ]);
    expect(findings[0]).toMatchObject({ severity: 'stop', subject: 'wire:W2:from' });
  });

  test('holds for what the roll-up itself finds', () => {
    const job = (asOriginal: LoomInput['asOriginal']) =>
      jobOf({
        loom: {
          asOriginal,
          points: points('A', 'B'),
          wires: [
            {
              id: 'W1',
              cableType: 'thin-wall',
              size: { system: 'mm2', areaMm2: 1 },
              colour: { base: 'red' },
              from: { point: 'A', join: 'bare' },
              to: { point: 'B', join: 'bare' },
            },
          ],
        },
      });
    expect(foundIn(job([]))).toMatchObject([{ code: 'wire-without-length', severity: 'stop' }]);
    expect(foundIn(job([accept('wire:W1', 'wire-without-length')]))).toMatchObject([
      { code: 'wire-without-length', severity: 'note', accepted: 'so it left the works' },
    ]);
  });

  test('but is not found is told with a note: another code, another place', () => {
    for (const idle of [accept('wire:W3:from'), accept('wire:W1:from', 'seal-range')])
      expect(foundIn(tooBig([idle]), 'accepted-nothing')).toMatchObject([
        { severity: 'note', at: '/looms/0/asOriginal/0' },
      ]);
    expect(foundIn(tooBig([accept('wire:W1:from')]), 'accepted-nothing')).toEqual([]);
  });

  test('holds for that loom alone: of ten and more looms too', () => {
    const codes = Array.from({ length: 12 }, (_, index) => `l${String(index).padStart(2, '0')}`);
    const looms = askedLooms(
      jobOf({
        looms: codes.map((code) => ({
          code,
          name: code,
          points: points('A'),
          asOriginal: code === 'l01' ? [accept('point:A', 'x')] : [],
        })),
        request: { looms: codes.map((loom) => ({ loom, quantity: 1 })) },
      }),
    );
    const finding = (loom: number): Finding => ({
      code: 'x',
      severity: 'stop',
      at: `/looms/${loom}/points/0`,
      where: 'here',
      subject: 'point:A',
      found: 'this',
      todo: 'that',
    });
    expect(
      acceptFindings([finding(0), finding(1), finding(11)], looms).map(({ severity }) => severity),
    ).toEqual(['stop', 'note', 'stop']);
    expect(acceptFindings([{ ...finding(1), at: '/parts/1' }], looms).map(({ code }) => code)).toEqual([
      'x',
      'accepted-nothing',
    ]);
  });
});
