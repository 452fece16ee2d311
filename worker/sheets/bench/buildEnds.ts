import type { BenchEnd } from '../../engine/model/bench.ts';
import { naturally } from '../../engine/model/naturally.ts';
import { table, type Block, type Column } from '../block.ts';
import type { EndHere, PointHere } from './legs.ts';
import { listed, placeWords, wireWords, type PartWords } from './words.ts';

/** More ends than this in one joint are not named at each of them. */
const NAMED = 12;

const COLUMNS: Column[] = [
  { head: '', tick: true },
  { head: 'Way' },
  { head: 'Wire' },
  { head: 'Colour, size', wraps: true },
  { head: 'Goes to', wraps: true },
  { head: 'Put on first', wraps: true },
  { head: 'Strip, mm', align: 'right' },
  { head: 'Then', wraps: true },
];

/** A row for each end at a point: what goes on the wire first, how much is stripped, and what is done with it then. */
export function endRows({ point, ends }: PointHere, words: PartWords): Block[] {
  const joined = ends.filter(isInJoint);
  return table(
    COLUMNS,
    ends.map((here) => [
      '',
      here.end.way ?? '',
      here.wire.wire,
      wireWords(here.wire),
      placeWords(here.other),
      putOnFirst(here, words).join('; '),
      here.end.inVehicle ? '' : `${here.end.stripMm}`,
      thenWords(here, point.kind, joined, words).join('; '),
    ]),
  );
}

function isInJoint({ end }: EndHere): boolean {
  return end.join === 'joint';
}

/** From the first that is threaded, which ends farthest from the end, to the last. */
function putOnFirst({ wire, end, cover, inTerminal }: EndHere, words: PartWords): string[] {
  const { label, seal } = end;
  const forAll = inTerminal.length > 1 ? ` (one for ${listed(inTerminal)})` : '';
  const named = (word: string, part: string) =>
    `${words.kind(part) === 'boot' ? 'boot' : word} ${words.bought(part)}`;
  const { tracerSleeve: sleeve } = wire;
  return [
    ...(label === undefined ? ['label'] : [named('label', label)]),
    ...(sleeve ? [`${sleeve.lengthMm} mm of tracer sleeve ${words.bought(sleeve.part)}`] : []),
    ...(cover === undefined ? [] : [`${named('cover', cover)}${forAll}`]),
    ...(seal === undefined ? [] : [named('seal', seal)]),
  ];
}

function thenWords(
  here: EndHere,
  kind: PointHere['point']['kind'],
  joined: readonly EndHere[],
  words: PartWords,
): string[] {
  const { end, wire } = here;
  const tail = end.tailMm > 0 ? [`leave ${end.tailMm} mm of tail`] : [];
  if (end.inVehicle) {
    const later = end.terminal === undefined ? '' : `, with ${words.bought(end.terminal)}`;
    return [...tail, `do not strip or join: finish in the vehicle${later}`];
  }
  const [first = wire.wire] = here.inTerminal;
  if (first !== wire.wire) return [...tail, `goes in the terminal of ${first}`];
  return [
    ...tail,
    ...joinWords(here, joined, words),
    ...(here.cover === undefined ? [] : ['slide the cover on']),
    ...(wire.tracerSleeve ? ['slide the tracer sleeve to the end, shrink it'] : []),
    ...placed(end, kind),
  ];
}

function joinWords(
  { end, wire, inTerminal }: EndHere,
  joined: readonly EndHere[],
  words: PartWords,
): string[] {
  const shared = inTerminal.filter((other) => other !== wire.wire);
  const beside = shared.length === 0 ? '' : ` with ${listed(shared)}`;
  const terminal = end.terminal === undefined ? '' : ` ${words.bought(end.terminal)}`;
  switch (end.join) {
    case 'crimp':
      return [`crimp${terminal}${beside}`, 'pull'];
    case 'solder':
      return [`solder${terminal}${beside}`, 'let it cool', 'pull'];
    case 'joint': {
      const after = ['pull', 'cover the joint'];
      if (joined.length > NAMED) return [`join with all ${joined.length} ends of this joint`, ...after];
      const others = joined.filter((other) => other.wire !== wire).map((other) => other.wire.wire);
      const withThem = others.length === 0 ? '' : ` with ${listed([...new Set(others)].sort(naturally))}`;
      return [`join${withThem}`, ...after];
    }
    case 'bare':
      return [end.terminal === undefined ? `leave bare${beside}` : `bare, in${terminal}${beside}`];
  }
}

/** What a finished end goes into, where the loom has it. */
function placed({ way, join }: BenchEnd, kind: PointHere['point']['kind']): string[] {
  if (join === 'joint') return [];
  if (kind === 'connector') return [`${join === 'bare' ? 'clamp' : 'push'} in way ${way ?? '______'}, pull`];
  return kind === 'joiner' ? ['push in the joiner, pull'] : [];
}
