import { joinOf, SIDES } from '../../model/loom.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { PartKind } from '../../model/part.ts';
import type { CheckContext } from './context.ts';

const USES = ['terminal', 'seal', 'cover', 'label'] as const;

/** What kinds of part may stand in each place of an end; common practice, no source. */
const KINDS: Record<(typeof USES)[number], readonly PartKind[]> = {
  terminal: ['terminal'],
  seal: ['seal'],
  cover: ['cover', 'boot', 'sleeve'],
  label: ['fitting', 'consumable', 'sleeve'],
};

/** Ends that would leave a terminal unbought, or buy a part that is none for its place. */
export function checkEnds({ looms, parts }: CheckContext): Finding[] {
  return looms.flatMap(({ loom, index, terminalOf }) =>
    loom.wires.flatMap((wire, wireIndex) =>
      SIDES.flatMap((side): Finding[] => {
        const end = wire[side];
        const path = ['looms', index, 'wires', wireIndex, side];
        const where = `loom ${loom.code}, wire ${wire.id}, ${side}`;
        const subject = `wire:${wire.id}:${side}`;
        const misplaced = USES.flatMap((use): Finding[] => {
          const code = end[use]?.part;
          const part = code === undefined ? undefined : parts.get(code);
          if (!part || KINDS[use].includes(part.kind)) return [];
          return [
            {
              code: 'kind-out-of-place',
              severity: 'warning',
              at: pointer([...path, use, 'part']),
              where: `${where}, ${use}`,
              subject,
              found: `${part.code}, a ${part.kind}`,
              limit: `a ${KINDS[use].join(', ')}`,
              source: 'common practice',
              todo: `Name a part that is a ${use} here, or correct the kind of ${part.code}.`,
            },
          ];
        });
        if (joinOf(end) !== 'crimp' || terminalOf(end)) return misplaced;
        return [
          ...misplaced,
          {
            code: 'crimp-without-terminal',
            severity: 'warning',
            at: pointer(path),
            where,
            subject,
            found:
              end.sharesTerminal === undefined
                ? 'a crimp without a terminal'
                : `a crimp that shares terminal ${end.sharesTerminal} at point ${end.point}, but no end names the part`,
            todo: 'No terminal is bought for this end. Name its terminal. If it needs none, state another join.',
          },
        ];
      }),
    ),
  );
}
