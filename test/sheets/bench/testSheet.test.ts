import fc from 'fast-check';
import { expect, test } from 'vitest';
import { testSections } from '../../../worker/sheets/bench/testSheet.ts';
import { sectionsText } from '../../../worker/sheets/blockText.ts';
import type { Section } from '../../../worker/sheets/block.ts';
import { jobOf } from '../../engine/fixtures.ts';
import { BENCH_PARTS, benchLoom } from './arbitraryBench.ts';
import { benchResult } from './benchResult.ts';
import { builtBy, type Built, type Element } from './built.ts';
import { circuitsOnSheet } from './read.ts';
import { followed, notToldApart } from './followed.ts';
import { diodeVolts, ohms } from './meter.ts';

type Loom = Parameters<typeof builtBy>[0];

const RUNS = { numRuns: 50 };

function sheetOf(loom: Omit<Loom, 'code' | 'name'>): { sheet: Section[]; built: Built } {
  const result = benchResult(jobOf({ parts: BENCH_PARTS, loom }));
  return {
    sheet: testSections(result),
    built: builtBy({ code: 'l', name: 'l', ...loom }, BENCH_PARTS),
  };
}

/** A joint is covered: what it does to the ends behind it is all that counts. */
const JOINTS = ['splice', 'inline'];

/** All that a meter could find out of a loom, between any two contacts that are in the open. */
function shownBy(built: Built): string {
  const all = built.contacts.flatMap(({ point }, at) => (JOINTS.includes(point) ? [] : [at]));
  return JSON.stringify(
    all.map((a) =>
      all.map((b) => {
        const ohm = ohms(built, a, b);
        return [
          ohm < 2 ? 0 : ohm > 1e6 ? -1 : Number(ohm.toPrecision(2)),
          diodeVolts(built, a, b) !== undefined,
        ];
      }),
    ),
  );
}

/** The contacts that words of the sheet name: "plug 1 (W1, W2)" as "plug W1, W2". */
const contactsIn = (words: string): string[] =>
  [...words.matchAll(/(?:^|stays at )(\S+)(?: [^(:]*?)? ?\((W[^)]*)\)/g)].map(
    ([, point = '', wires = '']) => `${point} ${wires}`,
  );

const without = ({ elements, ...rest }: Built, name: string): Built => ({
  ...rest,
  elements: elements.filter((element) => element.name !== name),
});
/** Of devices that are parallel to each other each is measured with an end off: the sheet says that a short stays unseen. */
const isInLoop = (sheet: readonly Section[]) =>
  sectionsText(sheet).includes('A short across it is not shown');
const isWire = ({ name }: Element) => /^W\d/.test(name);

test('every end of every wire is at a probe, or within a joint that the sheet names', () => {
  fc.assert(
    fc.property(benchLoom, (loom) => {
      const { sheet, built } = sheetOf(loom);
      const words = sectionsText(sheet).replaceAll(/\s+/g, ' ');
      for (const [head, rows] of circuitsOnSheet(sheet)) expect([head, rows.length]).not.toEqual([head, 0]);
      const probed = circuitsOnSheet(sheet).flatMap(([head, rows]) => [head, ...rows].flatMap(contactsIn));
      for (const { point, ends } of built.contacts) {
        const wires = [...new Set(ends.map((end) => end.split(' ')[0] ?? ''))].sort().join(', ');
        if (!probed.includes(`${point} ${wires}`)) {
          expect(JOINTS).toContain(point);
          expect(words).toMatch(new RegExp(`it goes through [^:]*\\b${point}\\b`));
        }
      }
    }),
    RUNS,
  );
});

test('a loom that is built as drawn shows what its sheet says', () => {
  fc.assert(
    fc.property(benchLoom, (loom) => {
      const { sheet, built } = sheetOf(loom);
      expect(followed(sheet, built)).toEqual([]);
    }),
    RUNS,
  );
});

test('a missing wire is found, but one that the sheet names because another way is parallel to it', () => {
  fc.assert(
    fc.property(benchLoom, fc.nat(), (loom, which) => {
      const { sheet, built } = sheetOf(loom);
      const wires = built.elements.filter(isWire);
      const gone = wires[which % wires.length]?.name ?? '';
      const faulty = without(built, gone);
      if (notToldApart(sheet).includes(gone)) expect(shownBy(faulty)).toBe(shownBy(built));
      else expect(followed(sheet, faulty)).not.toEqual([]);
    }),
    RUNS,
  );
});

test('two ends that are swapped are found, unless no meter could tell', () => {
  fc.assert(
    fc.property(benchLoom, fc.nat(), fc.nat(), (loom, one, other) => {
      const { sheet, built } = sheetOf(loom);
      const ends = built.elements.flatMap((element, at) =>
        isWire(element) ? (['a', 'b'] as const).map((side) => ({ at, side, contact: element[side] })) : [],
      );
      const [first, second] = [ends[one % ends.length], ends[other % ends.length]];
      if (!first || !second) throw new Error('a loom of the generator has a wire');
      const elements = built.elements.map((element) => ({ ...element }));
      const put = ({ at, side }: typeof first, contact: number) => {
        const element = elements[at];
        if (element) element[side] = contact;
      };
      put(first, second.contact);
      put(second, first.contact);
      const faulty = { ...built, elements };
      fc.pre(!isInLoop(sheet) && shownBy(faulty) !== shownBy(built));
      expect(followed(sheet, faulty)).not.toEqual([]);
    }),
    RUNS,
  );
});

test('a short between two circuits is found', () => {
  fc.assert(
    fc.property(benchLoom, fc.nat(), fc.nat(), (loom, one, other) => {
      const { sheet, built } = sheetOf(loom);
      const [a, b] = [one % built.contacts.length, other % built.contacts.length];
      const faulty = { ...built, elements: [...built.elements, { name: 'short', a, b, ohm: 0.01 }] };
      fc.pre(!isInLoop(sheet) && shownBy(faulty) !== shownBy(built));
      expect(followed(sheet, faulty)).not.toEqual([]);
    }),
    RUNS,
  );
});
