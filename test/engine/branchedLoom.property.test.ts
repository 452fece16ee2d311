import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Requirement } from '../../worker/engine/model/result.ts';
import { gbp, jobOf, mm2, supplier, unhurried } from './fixtures.ts';

type Loom = JobInput['looms'][number];
type Wire = NonNullable<Loom['wires']>[number];
type End = Wire['from'];
type Covering = NonNullable<Loom['coverings']>[number];

const BASES = ['red', 'black', 'green'] as const;
const PARTS: JobInput['parts'] = [
  ...BASES.map((base) => ({
    kind: 'wire' as const,
    code: `wire-${base}`,
    description: `Wire ${base}`,
    cableType: 'thin-wall',
    size: mm2(1),
    colour: { base },
    outsideDiameterMm: 2.1,
  })),
  { kind: 'terminal', code: 'ring', description: 'Ring', terminalType: 'ring' },
  { kind: 'terminal', code: 'blade', description: 'Blade', terminalType: 'blade', stripMm: 8, redoMm: 20 },
  { kind: 'seal', code: 'seal', description: 'Seal' },
  {
    kind: 'sleeve',
    code: 'braid',
    description: 'Braid',
    sleeveType: 'braided',
    holdsMinMm: 1,
    holdsMaxMm: 40,
    shortensTo: [
      { openedToMm: 4, per100Mm: 95 },
      { openedToMm: 20, per100Mm: 70 },
    ],
  },
  { kind: 'sleeve', code: 'pvc', description: 'PVC', sleeveType: 'pvc', boreMm: 30 },
  { kind: 'tape', code: 'tape', description: 'Tape', tapeType: 'cloth', widthMm: 19 },
  ...[4, 6, 9, 14, 20, 40].map((boreMm) => ({
    kind: 'sleeve' as const,
    code: `conduit-${String(boreMm).padStart(2, '0')}`,
    description: `Conduit ${boreMm}`,
    sleeveType: 'conduit' as const,
    boreMm,
  })),
];

const POINTS = 7;
const point = (at: number) => `P${at}`;

const anEnd = (at: number): fc.Arbitrary<End> =>
  fc
    .record({
      terminal: fc.constantFrom('ring', 'blade'),
      shared: fc.option(fc.constantFrom('x', 'y'), { nil: undefined }),
      seal: fc.boolean(),
      bare: fc.boolean(),
    })
    .map(({ terminal, shared, seal, bare }): End => ({
      point: point(at),
      join: bare ? 'bare' : 'crimp',
      ...(bare ? {} : { terminal: { part: shared === undefined ? terminal : 'ring' } }),
      ...(bare || shared === undefined ? {} : { sharesTerminal: shared }),
      ...(seal && !bare ? { seal: { part: 'seal' } } : {}),
    }));

const aWire: fc.Arbitrary<Wire> = fc
  .tuple(fc.integer({ min: 0, max: POINTS - 1 }), fc.integer({ min: 0, max: POINTS - 1 }))
  .chain(([from, to]) =>
    fc.record({
      id: fc.constant(''),
      cableType: fc.constant('thin-wall'),
      size: fc.constant(mm2(1)),
      colour: fc.record({ base: fc.constantFrom(...BASES) }),
      from: anEnd(from),
      to: anEnd(to === from ? (from + 1) % POINTS : to),
    }),
  );

const aCovering: fc.Arbitrary<Omit<Covering, 'id'>> = fc
  .record({
    branch: fc.integer({ min: 1, max: POINTS - 1 }),
    sort: fc.constantFrom(
      { kind: 'braided' as const, part: 'braid' },
      { kind: 'pvc' as const, part: 'pvc' },
      { kind: 'tape' as const, part: 'tape' },
      { kind: 'conduit' as const },
    ),
    overlap: fc.integer({ min: 0, max: 40 }),
  })
  .map(({ branch, sort, overlap }) => ({ ...sort, over: [`B${branch}`], overlapStartMm: overlap }));

interface Made {
  parents: number[];
  lengths: number[];
  wires: Wire[];
  coverings: Omit<Covering, 'id'>[];
}

/** A tree of branches: point n hangs on one of those before it. */
const made: fc.Arbitrary<Made> = fc.record({
  parents: fc.tuple(...Array.from({ length: POINTS - 1 }, (_, at) => fc.integer({ min: 0, max: at }))),
  lengths: fc.array(fc.integer({ min: 20, max: 900 }), { minLength: POINTS - 1, maxLength: POINTS - 1 }),
  wires: fc.array(aWire, { minLength: 1, maxLength: 10 }),
  coverings: fc.array(aCovering, { maxLength: 5 }),
});

function loomOf({ parents, lengths, wires, coverings }: Made): Omit<Loom, 'code' | 'name'> {
  return {
    points: Array.from({ length: POINTS }, (_, at) => ({ id: point(at), kind: 'breakout' as const })),
    branches: parents.map((parent, at) => ({
      id: `B${at + 1}`,
      from: point(parent),
      to: point(at + 1),
      lengthMm: lengths[at] ?? 1,
    })),
    wires: wires.map((wire, at) => ({ ...wire, id: `W${at}` })),
    coverings: coverings.map((covering, at) => ({ ...covering, id: `C${at}` })),
  };
}

const offers: JobInput['offers'] = PARTS.filter(({ kind }) => kind === 'sleeve').map(({ code }) => ({
  form: 'metre',
  code: `o-${code}`,
  supplier: 's',
  part: code,
  pricePerMetre: gbp('1'),
}));
const jobFor = (loom: Omit<Loom, 'code' | 'name'>, settings = {}) =>
  jobOf({
    parts: PARTS,
    suppliers: [supplier('s')],
    offers,
    club: { currency: 'GBP', settings },
    quantity: 2,
    loom,
  });
const rolled = (loom: Omit<Loom, 'code' | 'name'>, settings = {}) =>
  rollUp(normaliseJob(jobFor(loom, settings)), unhurried);
const amounts = (requirements: readonly Requirement[]) =>
  new Map(
    requirements.map((requirement) => [
      requirement.id,
      requirement.kind === 'count' ? requirement.quantity : requirement.totalMm,
    ]),
  );

test('no wire, terminal, seal or covering of a loom with branches is lost or counted twice', () => {
  fc.assert(
    fc.property(made, (given) => {
      const loom = loomOf(given);
      const { requirements, findings } = rolled(loom);
      const wires = requirements.flatMap((requirement) =>
        requirement.kind === 'wire' ? requirement.pieces.map(({ wire, count }) => `${count} ${wire}`) : [],
      );
      expect(wires.sort()).toEqual((loom.wires ?? []).map(({ id }) => `2 ${id}`).sort());
      const coverings = requirements.flatMap((requirement) =>
        requirement.kind === 'length' ? requirement.pieces.map(({ what, count }) => `${count} ${what}`) : [],
      );
      // Where nothing runs along its branch, nothing can be chosen or wound, and that is said once.
      const said = findings
        .filter(({ code }) => code === 'covering-not-chosen' || code === 'length-not-stated')
        .map(({ where }) => `2 ${where.replace('loom l, ', '')}`);
      expect([...coverings, ...said].sort()).toEqual(
        (loom.coverings ?? []).map(({ id }) => `2 covering ${id}`).sort(),
      );
      const ends = (loom.wires ?? []).flatMap(({ from, to }) => [from, to]);
      const used = (part: string) => {
        const own = ends.filter((end) => end.terminal?.part === part && end.sharesTerminal === undefined);
        const shared = ends
          .filter((end) => end.terminal?.part === part && end.sharesTerminal !== undefined)
          .map((end) => `${end.point} ${end.sharesTerminal ?? ''}`);
        return 2 * (own.length + new Set(shared).size);
      };
      for (const part of ['ring', 'blade']) {
        const requirement = requirements.find(({ id }) => id === `part:${part}`);
        expect(requirement?.kind === 'count' ? requirement.used : 0).toBe(used(part));
      }
      const seals = requirements.find(({ id }) => id === 'part:seal');
      expect(seals?.kind === 'count' ? seals.used : 0).toBe(2 * ends.filter(({ seal }) => seal).length);
    }),
    { numRuns: 80 },
  );
});

test('another wire never lowers the metres of a wire, the count of a terminal or seal, or a stated covering', () => {
  fc.assert(
    fc.property(made, aWire, fc.nat({ max: 9 }), (given, more, sparePercent) => {
      // With one that joins others in their terminal there may be a kind of crimp fewer to set a tool up for.
      const joins = [more.from, more.to].some(({ sharesTerminal }) => sharesTerminal !== undefined);
      const setUpCrimps = joins ? 0 : sparePercent % 3;
      const settings = { sparePercent, spareWirePercent: sparePercent, setUpCrimps };
      const before = rolled(loomOf(given), settings).requirements;
      const after = amounts(
        rolled(loomOf({ ...given, wires: [...given.wires, more] }), settings).requirements,
      );
      for (const [id, amount] of amounts(before))
        // What is chosen to fit may be another part with another wire.
        if (!id.startsWith('part:conduit')) expect(after.get(id) ?? 0).toBeGreaterThanOrEqual(amount);
    }),
    { numRuns: 80 },
  );
});

test('other names and another order change nothing but names', () => {
  fc.assert(
    fc.property(made, fc.infiniteStream(fc.nat()), (given, numbers) => {
      const loom = loomOf(given);
      const next = () => Number(numbers.next().value);
      const shuffled = <T>(list: readonly T[] | undefined) =>
        (list ?? [])
          .map((item) => ({ item, rank: next() }))
          .sort((a, b) => a.rank - b.rank)
          .map(({ item }) => item);
      const names = new Map<string, string>();
      const renamed = (id: string) => {
        const name = names.get(id) ?? `${String(next() % 1000).padStart(3, '0')}-${names.size}`;
        names.set(id, name);
        return name;
      };
      const end = (from: End): End => ({ ...from, point: renamed(from.point) });
      const other = {
        points: shuffled(loom.points).map((item) => ({ ...item, id: renamed(item.id) })),
        branches: shuffled(loom.branches).map(({ id, from, to, ...rest }) => ({
          ...rest,
          id: renamed(id),
          // A branch may be stated either way round.
          ...(next() % 2 === 0
            ? { from: renamed(from), to: renamed(to) }
            : { from: renamed(to), to: renamed(from) }),
        })),
        wires: shuffled(loom.wires).map((item) => ({
          ...item,
          id: renamed(item.id),
          from: end(item.from),
          to: end(item.to),
        })),
        coverings: shuffled(loom.coverings).map((item) => ({
          ...item,
          id: renamed(item.id),
          over: (item.over ?? []).map(renamed),
        })),
      };
      const [one, two] = [rolled(loom), rolled(other)];
      expect(amounts(two.requirements)).toEqual(amounts(one.requirements));
      const codes = (findings: typeof one.findings) => findings.map(({ code }) => code).sort();
      expect(codes(two.findings)).toEqual(codes(one.findings));
      const bundles = (branches: typeof one.branches) =>
        branches
          .of('l')
          .map(({ bundle, coveredMm, wires }) => JSON.stringify([bundle, coveredMm, wires.length]))
          .sort();
      expect(bundles(two.branches)).toEqual(bundles(one.branches));
      expect(two.circuits.all.map(({ wires }) => wires.length).sort()).toEqual(
        one.circuits.all.map(({ wires }) => wires.length).sort(),
      );
    }),
    { numRuns: 80 },
  );
});
