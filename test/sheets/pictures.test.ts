import fc from 'fast-check';
import { expect, test } from 'vitest';
import { branchPictures } from '../../worker/sheets/pictures/branches.ts';
import { hourLines } from '../../worker/sheets/pictures/hourLines.ts';
import { hatched, HATCHES, type Shape } from '../../worker/sheets/pictures/picture.ts';
import { svg } from '../../worker/sheets/pictures/svg.ts';
import { supplierBars } from '../../worker/sheets/pictures/supplierBars.ts';
import { forestOf, type Edge } from '../../worker/sheets/pictures/tree.ts';
import { fullResult, gbp, metreLine, orderList } from './sample.ts';

/** Branches of a tree: each new point hangs on an earlier one. */
const trees = fc
  .array(fc.record({ on: fc.nat(), lengthMm: fc.integer({ min: 10, max: 3000 }) }), {
    minLength: 1,
    maxLength: 60,
  })
  .map((all) =>
    all.map(({ on, lengthMm }, at): Edge => ({
      branch: `b${at}`,
      from: `p${on % (at + 1)}`,
      to: `p${at + 1}`,
      lengthMm,
    })),
  );

test('a tree has each branch once, joined as it is, in rows of which no two branches share a place', () => {
  fc.assert(
    fc.property(trees, (edges) => {
      const { trees: all, rings } = forestOf(edges);
      expect([all.length, rings.length]).toEqual([1, 0]);
      const twigs = all[0]?.twigs ?? [];
      expect(twigs.map(({ edge }) => edge.branch).sort()).toEqual(edges.map(({ branch }) => branch).sort());
      const placed = new Map([[all[0]?.root ?? '', { row: 0, mm: 0 }]]);
      const ends = new Map<number, number>();
      for (const { edge, inner, outer, row, innerRow } of twigs) {
        const start = placed.get(inner);
        expect([[edge.from, edge.to].sort(), start?.row]).toEqual([[inner, outer].sort(), innerRow]);
        expect(start?.mm).toBeGreaterThanOrEqual(ends.get(row) ?? 0);
        const mm = (start?.mm ?? 0) + edge.lengthMm;
        placed.set(outer, { row, mm });
        ends.set(row, mm);
      }
    }),
  );
});

test('a branch that closes a ring is told and not drawn', () => {
  const edge = (branch: string, from: string, to: string) => ({ branch, from, to, lengthMm: 100 });
  const { rings } = branchPictures('loom', [edge('a', 'P', 'Q'), edge('b', 'Q', 'R'), edge('c', 'R', 'P')]);
  expect(rings).toHaveLength(1);
});

test('a drawing to scale has lines as long as its branches, with names and mm beside them', () => {
  const edges = [
    { branch: 'trunk', from: 'P', to: 'Q', lengthMm: 1000 },
    { branch: 'left', from: 'Q', to: 'R', lengthMm: 500 },
    { branch: 'right', from: 'Q', to: 'S', lengthMm: 250 },
  ];
  const { pictures, toScale, stretched } = branchPictures('loom', edges);
  expect([pictures.length, toScale, stretched]).toEqual([1, true, []]);
  const shapes = pictures[0]?.shapes ?? [];
  const across = shapes.flatMap((shape) => {
    if (shape.is !== 'line') return [];
    const [[x1, y1] = [0, 0], [x2, y2] = [0, 0]] = shape.points;
    return y1 === y2 ? [x2 - x1] : [];
  });
  const [first = 1, ...others] = across.sort((a, b) => b - a);
  expect(others.map((width) => Math.round((width / first) * 100))).toEqual([50, 25]);
  const said = shapes.flatMap((shape) => (shape.is === 'words' ? [shape.words] : []));
  expect(said.sort()).toEqual(['P', 'Q', 'R', 'S', 'left 500', 'right 250', 'trunk 1000']);
});

test('every hatch stays inside its box', () => {
  const size = fc.integer({ min: 1, max: 200 });
  fc.assert(
    fc.property(
      fc.record({ x: size, y: size, width: size, height: size }),
      fc.constantFrom(...HATCHES),
      (area, hatch) => {
        for (const shape of hatched(area, hatch))
          if (shape.is === 'line')
            for (const [x, y] of shape.points) {
              expect(x).toBeGreaterThanOrEqual(area.x - 1e-9);
              expect(x).toBeLessThanOrEqual(area.x + area.width + 1e-9);
              expect(y).toBeGreaterThanOrEqual(area.y - 1e-9);
              expect(y).toBeLessThanOrEqual(area.y + area.height + 1e-9);
            }
      },
    ),
  );
});

test('two lines of cost cross where the worth of an hour makes them meet', () => {
  // 100 + 20 h and 340: they meet at 12 an hour.
  const { shapes } = hourLines({
    currency: 'GBP',
    lines: [
      {
        name: 'build all',
        points: [
          { hourWorth: 0, total: 100 },
          { hourWorth: 20, total: 500 },
        ],
      },
      {
        name: 'buy all',
        points: [
          { hourWorth: 0, total: 340 },
          { hourWorth: 20, total: 340 },
        ],
      },
    ],
    marks: [{ hourWorth: 15, said: 'yours 15.00' }],
    crossing: { hourWorth: 12, total: 340 },
  });
  const dot = shapes.find((shape): shape is Extract<Shape, { is: 'dot' }> => shape.is === 'dot');
  const [built, bought] = shapes.filter(
    (shape): shape is Extract<Shape, { is: 'line' }> =>
      shape.is === 'line' && shape.points.length === 2 && shape.dashed === undefined,
  );
  for (const line of [built, bought]) {
    const [[x1, y1] = [0, 0], [x2, y2] = [0, 0]] = line?.points ?? [];
    const y = y1 + ((y2 - y1) * ((dot?.x ?? 0) - x1)) / (x2 - x1);
    expect(y).toBeCloseTo(dot?.y ?? NaN, 6);
  }
});

test('a hostile name in a picture stays a name', () => {
  const evil = '"><script>alert(1)</script>';
  const [picture] = branchPictures(evil, [{ branch: evil, from: 'P', to: evil, lengthMm: 9 }]).pictures;
  const drawn = picture ? svg(picture).toString() : '';
  expect(drawn).toContain('&lt;script&gt;');
  expect(drawn).not.toContain('<script');
});

test('the figures beside the bar of an order add up to its total, rounding and all', async () => {
  const sample = await fullResult();
  const list = orderList([metreLine(1)], {
    goods: gbp('38.05'),
    postage: gbp('2.95'),
    handling: gbp('0.00'),
    rounding: gbp('-0.03'),
    total: gbp('40.97'),
  });
  const said = supplierBars({ ...sample, orderLists: [list] })?.shapes.flatMap((shape) =>
    shape.is === 'words' ? [shape.words] : [],
  );
  expect(said).toContain('38.05 + 2.95 − 0.03 rounding = 40.97');
});
