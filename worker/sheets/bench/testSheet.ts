import type { BenchLoom } from '../../engine/model/bench.ts';
import type { BenchProbe, BenchTests, TestedCircuit } from '../../engine/model/benchTests.ts';
import { addTo } from '../../engine/model/group.ts';
import { groups, list, table, text, under, type Block, type Column, type Section } from '../block.ts';
import { cautions } from '../remarks.ts';
import { titleOf } from './buildSheet.ts';
import { deviceRows, fuseRows, loadRows } from './testRows.ts';
import { type BenchResult, BLANK, listed, pointWords, probeWords, wiresAt, placeWords } from './words.ts';

/**
 * What the meter must be, and how the loom lies. The limits: IPC/WHMA-A-620, 2 Ω or 1 Ω and the wire’s own, from memory;
 * US Army SB 740-91-01, 200 to 1000 V for at most a minute and at least 100 MΩ.
 */
const BEFORE = [
  'Test the bare loom on the bench: nothing is connected, every plug and every device is off. Fuse holders and soldered devices of the loom are on it, and all fuses are out.',
  'A hand meter on its beep is enough. Touch the probes together first: it beeps, and what it shows is the ohms of its leads. Take that off every reading.',
  '“Beeps” means under 2 Ω without the leads (IPC/WHMA-A-620, from memory). Write the reading down if it is more than its neighbours’.',
  '“Each other circuit”: leave the one probe where it is, and touch with the other where the probe of each other circuit stays.',
  'Move the loom while the meter beeps. A join that comes and goes is made again.',
  'A beep does not show a wire that hangs by one strand: the load tests do.',
  'After fitting: battery off, go through the rows with a line in the last column once more. The other rows do not hold in the vehicle, where lamps and switches join circuits.',
];

const INSULATION =
  'Insulation, only if you have an insulation tester, and only on the bare loom: 200 to 1000 V for at most a minute, one circuit against all others joined; at least 100 MΩ (US Army SB 740-91-01). Take off all devices first, soldered ones too: this voltage destroys them.';

/** The tests of each loom of a quote, with boxes to tick and lines for readings; then what to take care of. */
export function testSections(result: BenchResult): Section[] {
  const looms = (result.bench?.looms ?? []).filter(({ wires }) => wires.length > 0);
  if (looms.length === 0) return [];
  return [
    { title: 'Before you test', blocks: list(BEFORE) },
    ...looms.map((loom) => ({ title: `Test: ${titleOf(loom, result)}`, blocks: testBlocks(loom) })),
    { title: 'Take care', blocks: cautions(result) },
  ];
}

function testBlocks(loom: BenchLoom): Block[] {
  const { tests } = loom;
  return [
    ...under('Each circuit from one end to all others, and against all other circuits', circuitRows(loom)),
    ...under('Wires that the meter does not tell apart: look at them, and pull each', list(notSeen(tests))),
    ...under('Ways side by side', neighbourRows(tests)),
    ...under('Diodes and resistors', deviceRows(tests)),
    ...under('Fuses, one by one', fuseRows(tests)),
    ...under('Load tests', loadRows(tests)),
    ...under('Apart on the bench, joined in the vehicle', list(joined(loom))),
    ...under('Not in these tests', list(notTested(tests))),
    ...text(INSULATION),
  ];
}

const CIRCUIT_COLUMNS: Column[] = [
  { head: '', tick: true },
  { head: 'Other probe at', wraps: true },
  { head: 'Wires there', wraps: true },
  { head: 'What', wraps: true },
  { head: 'Must' },
  { head: 'Reading' },
  { head: 'After fitting' },
];

function circuitRows({ points, tests }: BenchLoom): Block[] {
  const exceptOf = exceptions(tests.circuits);
  const labels = new Map(points.map(({ point, label }) => [point, label ?? '']));
  return groups(
    CIRCUIT_COLUMNS,
    tests.circuits.map((circuit) => ({
      head: circuitHead(circuit),
      rows: [
        ...circuit.others.map((probe) => [
          '',
          placeWords(probe),
          wiresAt(probe).join(', '),
          labels.get(probe.point) ?? '',
          'beep',
          BLANK,
          BLANK,
        ]),
        ...(tests.circuits.length > 1
          ? [['', `each other circuit${exceptOf(circuit)}`, '', '', 'not beep', BLANK, '–']]
          : []),
      ],
    })),
  );
}

/** "Circuit 3, horn: one probe stays at plug 5 (W3); through commons" */
function circuitHead({ number, names, reference, through = [] }: TestedCircuit): string {
  const name = names.length === 0 ? '' : `, ${names.join(', ')}`;
  const inside = through.length === 0 ? '' : `; it goes through ${listed(through)}`;
  return `Circuit ${number}${name}: one probe stays at ${probeWords(reference)}${inside}`;
}

/** More circuits than this are not named in every row. */
const NAMED = 12;

/** With which other circuits each may beep: ", except 3 and 4, to which devices lead" */
function exceptions(circuits: readonly TestedCircuit[]): (circuit: TestedCircuit) => string {
  const members = new Map<number, number[]>();
  for (const { number, beepGroup } of circuits)
    if (beepGroup !== undefined) addTo(members, beepGroup, number);
  return ({ number, beepGroup }) => {
    const all = beepGroup === undefined ? [] : (members.get(beepGroup) ?? []);
    if (all.length < 2) return '';
    return all.length > NAMED
      ? `, except the ${all.length - 1} to which devices lead from it`
      : `, except ${listed(all.filter((other) => other !== number))}, to which devices lead`;
  };
}

function notSeen({ circuits }: BenchTests): string[] {
  return circuits.flatMap(({ number, notSeen: wires = [] }) =>
    wires.length === 0
      ? []
      : [`Circuit ${number}: ${listed(wires)}. Another way joins their ends, so it beeps without them too.`],
  );
}

function neighbourRows({ neighbours }: BenchTests): Block[] {
  const words = (probe: BenchProbe) => probeWords(probe);
  return table(
    [
      { head: '', tick: true },
      { head: 'One probe at', wraps: true },
      { head: 'The other at', wraps: true },
      { head: 'Must' },
      { head: 'Reading' },
    ],
    neighbours.map(({ a, b }) => ['', words(a), words(b), 'not beep', BLANK]),
  );
}

function joined({ points, tests }: BenchLoom): string[] {
  const byId = new Map(points.map((point) => [point.point, point]));
  return tests.joinedInVehicle.map(({ points: at, circuits }) => {
    const where = at.map((id) => {
      const point = byId.get(id);
      return point ? pointWords(point) : id;
    });
    return `Circuits ${listed(circuits)} are joined at ${listed(where)}.`;
  });
}

const WHY: Record<BenchTests['notTested'][number]['why'], string> = {
  unknownDevice: 'what lies between its pins is not known. Write down what the meter shows between them.',
  fuseWaysUnknown: 'which ways one fuse joins is not known. Name its ways in pairs, such as 1 and 1a.',
};

function notTested({ notTested: all }: BenchTests): string[] {
  return all.map(({ point, why }) => `${point}: ${WHY[why]}`);
}
