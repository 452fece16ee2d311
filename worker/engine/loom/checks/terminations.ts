import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import { SIDES, type End, type Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import type { CheckContext } from './context.ts';
import { someOf } from './words.ts';

type Point = JobLoom['points'][number];

/** An end of a wire. */
export interface EndAt {
  asked: AskedLoom;
  wire: Wire;
  /** Its place in the loom's list of wires. */
  index: number;
  side: 'from' | 'to';
  end: End;
}

/** Where an end stands in the job, as a pointer's keys. */
export function pathOf({ asked, index, side }: EndAt): PropertyKey[] {
  return ['looms', asked.index, 'wires', index, side];
}

/** "loom main, wire W3, from" */
export function whereOf({ asked, wire, side }: EndAt): string {
  return `loom ${asked.loom.code}, wire ${wire.id}, ${side}`;
}

/** What asOriginal names to accept what is found at an end. */
export function subjectOf({ wire, side }: EndAt): string {
  return `wire:${wire.id}:${side}`;
}

/** What holds one terminal: the ends that share it, or an end by itself. */
export interface Termination {
  ends: readonly EndAt[];
  /** The end that names the terminal, else the first. */
  named: EndAt;
  /** The code of the terminal. */
  terminal: string | undefined;
  /** The way that one of its ends states. */
  way: string | undefined;
}

/** A point with all that ends there. Where two looms meet at it, it stands once, with the ends of both. */
export interface PointAt {
  asked: AskedLoom;
  point: Point;
  part: Part | undefined;
  path: PropertyKey[];
  where: string;
  subject: string;
  ends: readonly EndAt[];
  terminations: readonly Termination[];
}

/** Every point of the looms with what ends there, in the order of looms and points. */
export function pointsWithEnds({ looms, parts }: Pick<CheckContext, 'looms' | 'parts'>): PointAt[] {
  const there = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  /** The point as the loom that brings it has it; where that one is not in the job, as the loom at hand does. */
  const brought = (own: Point): Point =>
    (own.suppliedByLoom === undefined ? undefined : there.get(own.suppliedByLoom)?.get(own.id)) ?? own;
  const ends = new Map<Point, EndAt[]>();
  for (const asked of looms) {
    const own = there.get(asked.loom.code);
    asked.loom.wires.forEach((wire, index) => {
      for (const side of SIDES) {
        const end = wire[side];
        const point = own?.get(end.point);
        if (point) addTo(ends, brought(point), { asked, wire, index, side, end });
      }
    });
  }
  return looms.flatMap((asked) =>
    asked.loom.points.flatMap((point, index): PointAt[] => {
      if (brought(point) !== point) return [];
      const here = ends.get(point) ?? [];
      return [
        {
          asked,
          point,
          part: point.part === undefined ? undefined : parts.get(point.part),
          path: ['looms', asked.index, 'points', index],
          where: `loom ${asked.loom.code}, point ${point.id}`,
          subject: `point:${point.id}`,
          ends: here,
          terminations: terminationsOf(here),
        },
      ];
    }),
  );
}

function terminationsOf(ends: readonly EndAt[]): Termination[] {
  const groups: [EndAt, ...EndAt[]][] = [];
  const shared = new Map<string, EndAt[]>();
  for (const each of ends) {
    const word = each.end.sharesTerminal;
    const group = word === undefined ? undefined : shared.get(word);
    if (group) group.push(each);
    else {
      const made: [EndAt, ...EndAt[]] = [each];
      groups.push(made);
      if (word !== undefined) shared.set(word, made);
    }
  }
  return groups.map((group) => {
    const named = group.find(({ end }) => end.terminal) ?? group[0];
    return {
      ends: group,
      named,
      terminal: named.end.terminal?.part,
      way: group.find(({ end }) => end.way !== undefined)?.end.way,
    };
  });
}

/** The wires of a termination in words: "W3, W7". */
export function wiresIn({ ends }: Pick<Termination, 'ends'>): string {
  return someOf(ends.map(({ wire }) => wire.id));
}
