import type { BenchTests, TestedDevice, TestedFuse } from '../../engine/model/benchTests.ts';
import { table, text, type Block, type Column } from '../block.ts';
import { BLANK, probeWords } from './words.ts';

const START: Column[] = [
  { head: '', tick: true },
  { head: 'What', wraps: true },
];
const PROBES = (one: string, other: string): Column[] => [
  { head: one, wraps: true },
  { head: other, wraps: true },
];

/** Two rows for a diode, one each way round; one for a resistor. */
export function deviceRows({ devices }: BenchTests): Block[] {
  const columns = [
    ...START,
    ...PROBES('Red probe at', 'Black probe at'),
    { head: 'Must show', wraps: true },
    { head: 'Reading' },
  ];
  const rows = devices.flatMap((device) => {
    const name = `${device.point ?? device.wire ?? ''}${device.parallel ? ', one end off' : ''}`;
    const [a, b] = [probeWords(device.a), probeWords(device.b)];
    if (device.kind !== 'diode') return [['', name, a, b, ohmWords(device), BLANK]];
    const volts = `${device.leastVolts ?? 0} to ${device.mostVolts ?? 0} V`;
    const [there, back] = device.directionKnown
      ? [volts, 'nothing: OL or 1']
      : [`${volts}, or nothing`, 'the other of these two'];
    return [
      ['', name, a, b, there, BLANK],
      ['', name, b, a, back, BLANK],
    ];
  });
  return rows.length === 0 ? [] : [...table(columns, rows), ...notes(devices)];
}

function notes(devices: readonly TestedDevice[]): Block[] {
  return [
    ...text(
      devices.some(({ kind }) => kind === 'diode')
        ? 'Diodes: the meter’s diode range. The volts are those of a silicon diode, from memory, no source; a Schottky diode shows 0.15 to 0.45 V.'
        : '',
    ),
    ...text(
      devices.some(({ toleranceFrom }) => toleranceFrom === 'memory')
        ? 'Resistors: a tolerance of 5 % is from memory, no source. Use that of the part if you know it. Take the ohms of the leads off.'
        : '',
    ),
    ...text(
      devices.some(({ parallel }) => parallel === true)
        ? 'One end off: another way is parallel to it, and the meter would show both. Take one of its ends off to measure it. A short across it is not shown by this row.'
        : '',
    ),
  ];
}

function ohmWords({ ohm, leastOhm, mostOhm, tolerancePercent }: TestedDevice): string {
  if (ohm === undefined) return 'its ohms, which are not stated: write them down';
  return `${ohm} Ω ± ${tolerancePercent ?? 0} %: ${leastOhm ?? 0} to ${mostOhm ?? 0} Ω`;
}

/** A row for each fuse: with the fuse out, then with it in. */
export function fuseRows({ fuses }: BenchTests): Block[] {
  return table(
    [
      ...START,
      ...PROBES('One probe at', 'The other at'),
      { head: 'Fuse', wraps: true },
      { head: 'Out: not beep' },
      { head: 'In: beep' },
      { head: 'After fitting' },
    ],
    fuses.map((fuse) => {
      const isFitted = fuse.when === 'fitted';
      return [
        '',
        fuse.point,
        probeWords(fuse.a),
        probeWords(fuse.b),
        fuseWords(fuse),
        isFitted ? '–' : fuse.parallel ? 'may beep' : BLANK,
        isFitted ? '–' : BLANK,
        BLANK,
      ];
    }),
  );
}

const BASES = { continuous: 'continuous', blow: 'blows at' } as const;

/** "25 A, blows at" would be read as a fault, so the basis goes before it: "blows at 25 A", "8 A continuous" */
function fuseWords({ ratingAmps, basis }: TestedFuse): string {
  if (ratingAmps === undefined || basis === undefined) return 'not stated';
  return basis === 'blow' ? `${BASES.blow} ${ratingAmps} A` : `${ratingAmps} A ${BASES.continuous}`;
}

export function loadRows({ loads }: BenchTests): Block[] {
  if (loads.length === 0) return [];
  return [
    ...text(
      'Send the current through with a battery, a fuse of not more than the next size and a lamp that takes it, and measure the volts between the two probes while it flows. Not longer than it takes to read. These wires lose much of what they may.',
    ),
    ...table(
      [
        { head: '', tick: true },
        { head: 'Wires', wraps: true },
        ...PROBES('From', 'To'),
        { head: 'Current', align: 'right' },
        { head: 'At most', align: 'right' },
        { head: 'Reading' },
        { head: 'After fitting' },
      ],
      loads.map(({ wires, a, b, amps, millivoltsAtMost, when }) => [
        '',
        wires.join(', '),
        probeWords(a),
        probeWords(b),
        `${amps} A`,
        `${(millivoltsAtMost / 1000).toFixed(3)} V`,
        when === 'fitted' ? '–' : BLANK,
        BLANK,
      ]),
    ),
  ];
}
