import { pointer, type Finding } from '../../model/finding.ts';
import type { CheckContext } from './context.ts';
import { someOf } from './words.ts';

/** Looms that meet another one which is made in several ways: as which of them that is meant cannot be told. */
export function checkWhichLoom({ looms }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, code, index, unclear }) =>
    unclear.map((other): Finding => {
      const at = loom.points.flatMap(({ suppliedByLoom, matedTo }, place) =>
        [suppliedByLoom, matedTo?.loom].includes(other.name) ? [place] : [],
      );
      const points = someOf(at.map((place) => loom.points[place]?.id ?? ''));
      const own = looms.filter((asked) => asked.code === code).map((asked) => asked.loom.code);
      return {
        code: 'other-loom-not-clear',
        severity: 'warning',
        at: pointer(['looms', index, 'points', at[0] ?? 0]),
        where: `loom ${loom.code}, point ${points}`,
        subject: `loom:${other.code}`,
        found: `meets loom ${other.code}, but it is not clear which one: this quote makes ${other.others.join(' and ')}, and of this loom ${own.join(' and ')}`,
        limit: 'looms that meet are made with the same options, as far as both have them',
        todo: 'Circuits end at these points: fuses, currents and volts lost are not checked across them. State the options in both looms and choose the same ones, or ask for a separate quote for each vehicle.',
      };
    }),
  );
}
