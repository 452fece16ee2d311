import { pointer, type Finding } from '../../model/finding.ts';
import type { CheckContext } from './context.ts';

/** Looms with options of which none is chosen, and looms of which nothing is left with those that are. */
export function checkOptions({ looms }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index, options }): Finding[] => {
    const all = loom.options ?? [];
    if (all.length === 0) return [];
    const place = {
      at: pointer(['looms', index, 'options']),
      where: `loom ${loom.code}`,
      subject: `loom:${loom.code}`,
      limit: all.join(', '),
    };
    const nothing =
      [loom.wires, loom.cables, loom.coverings, loom.fittings, loom.parts].every(
        ({ length }) => length === 0,
      ) && loom.points.every(({ part }) => part === undefined);
    if (nothing)
      return [
        {
          ...place,
          code: 'nothing-with-options',
          severity: 'warning',
          found: `nothing is left of the loom with ${options.length === 0 ? 'none of its options' : options.join(', ')}`,
          todo: 'Choose the options with which it is made.',
        },
      ];
    if (options.length > 0) return [];
    return [
      {
        ...place,
        code: 'options-not-chosen',
        severity: 'note',
        found: 'none of the loom’s options is chosen: only what is always there is counted',
        todo: 'Choose the options with which it is made, if it is made with any.',
      },
    ];
  });
}
