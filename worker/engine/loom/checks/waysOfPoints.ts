import { joinOf } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { CheckContext } from './context.ts';
import { figuresOf, someOf } from './words.ts';
import { pathOf, whereOf, type EndAt, type PointAt, type Termination } from './terminations.ts';

/** Ways that a connector or device does not have, and two terminals in one way of a connector. */
export function checkWays(_context: CheckContext, points: readonly PointAt[]): Finding[] {
  return points.flatMap((point) => {
    const { kind } = point.point;
    if (kind !== 'connector' && kind !== 'device') return [];
    return [
      ...tooMany(point),
      ...unknown(point),
      // Blades ride on one another and rings are stacked at a device's pin; in a connector's way there is room for one.
      ...(kind === 'connector' ? takenTwice(point) : []),
    ];
  });
}

/** Ways used; in a connector a terminal that states no way takes one too. */
function tooMany({ point, part, path, where, subject, terminations }: PointAt): Finding[] {
  const stated = [
    ...(part?.kind === 'housing' ? [{ ways: part.ways, source: figuresOf(part) }] : []),
    ...(point.ways === undefined
      ? []
      : [{ ways: point.ways, source: 'the number of ways that the loom states' }]),
  ];
  const [limit] = stated.sort((a, b) => a.ways - b.ways);
  if (!limit) return [];
  const named = new Set(terminations.flatMap(({ way }) => way ?? []));
  const unnamed = point.kind === 'connector' ? terminations.filter(({ way }) => way === undefined).length : 0;
  const used = named.size + unnamed;
  if (used <= limit.ways) return [];
  return [
    {
      code: 'ways-exceeded',
      severity: 'stop',
      at: pointer(path),
      where,
      subject,
      found: `${used} ways used${unnamed > 0 ? `, ${unnamed} of them by ends that name none` : ''}`,
      limit: `${limit.ways} way${limit.ways === 1 ? '' : 's'}`,
      source: limit.source,
      todo: 'Name a part with more ways, move a wire to another point, or let ends share a terminal.',
    },
  ];
}

function unknown({ point, part, subject, ends }: PointAt): Finding[] {
  const pins = point.pins?.length ? point.pins : part?.kind === 'device' ? part.pins : undefined;
  if (!pins?.length) return [];
  const known = new Set(pins);
  const first = new Map<string, EndAt>();
  for (const each of ends) {
    const { way } = each.end;
    if (way !== undefined && !known.has(way) && !first.has(way)) first.set(way, each);
  }
  return [...first].map(([way, each]) => ({
    code: 'way-unknown',
    severity: 'warning',
    at: pointer([...pathOf(each), 'way']),
    where: whereOf(each),
    subject: `${subject}:way:${way}`,
    found: `way ${way} of point ${point.id}`,
    limit: pins.join(', '),
    source: point.pins?.length
      ? 'the pins that the loom states for this point'
      : figuresOf({ code: part?.code ?? '' }),
    todo: 'Correct the way, or add it to the pins.',
  }));
}

function takenTwice({ point, subject, terminations }: PointAt): Finding[] {
  const byWay = new Map<string, Termination[]>();
  for (const termination of terminations)
    // Several bare ends may stand under one screw.
    if (
      termination.way !== undefined &&
      (termination.terminal !== undefined || joinOf(termination.named.end) === 'crimp')
    )
      addTo(byWay, termination.way, termination);
  return [...byWay].flatMap(([way, [first, ...others]]): Finding[] => {
    if (!first || others.length === 0) return [];
    // Of ends that share a terminal, another than the one that names it may state the way.
    const stating = first.ends.find(({ end }) => end.way === way) ?? first.named;
    return [
      {
        code: 'way-taken-twice',
        severity: 'stop',
        at: pointer([...pathOf(stating), 'way']),
        where: whereOf(stating),
        subject: `${subject}:way:${way}`,
        found: `${others.length + 1} terminals in way ${way} of point ${point.id}: wires ${someOf([first, ...others].flatMap(({ ends }) => ends.map(({ wire }) => wire.id)))}`,
        limit: 'one terminal in a way',
        source: 'common practice, no source',
        todo: 'Give one of them another way. If the wires are crimped in one terminal, state the same sharesTerminal at each.',
      },
    ];
  });
}
