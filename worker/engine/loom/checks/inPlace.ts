import { specOf } from '../../job/wireSpec.ts';
import { Cancelled, type Control } from '../../model/control.ts';
import type { Finding } from '../../model/finding.ts';
import type { Part } from '../../model/part.ts';
import type { Requirement } from '../../model/result.ts';
import { contextOf } from '../contextOf.ts';
import { circuitsOf } from '../graph/circuits.ts';
import { protectionOf } from '../protection/protection.ts';
import { runChecks } from './checks.ts';
import type { CheckContext } from './context.ts';
import { functionsChanged } from './functionsChanged.ts';
import { loomsWith } from './loomsWith.ts';
import { speakingAgainst } from './speaksAgainst.ts';
import { touching } from './touching.ts';

/** A part put in all the places of what a requirement needs. */
export interface Placement {
  requirement: Requirement;
  part: Part;
}

/** Tells whether other parts would do in the places of those that the looms name. */
export interface Vetting {
  /** What speaks against these parts in their places, all put there together: nothing where they would do. */
  against(placements: readonly Placement[]): Finding[];
  /** Whether what these requirements need comes together somewhere, so that one may speak against the other. */
  meet(a: Requirement, b: Requirement): boolean;
}

/**
 * Puts other parts in the looms and has all checks look at them: one set of rules for what a loom names and for what is bought
 * in its place. A stop or a warning speaks against a part, unless it stands word for word without that part, or the loom
 * accepts it of the part that it names. What is not bought (reused, from stock) stays what it is.
 *
 * @param findings what the checks say of the looms as they are
 */
export function vettingOf(context: CheckContext, findings: readonly Finding[], control: Control): Vetting {
  // Most jobs name nothing that stands in.
  const speaking = once(() => speakingAgainst(findings, context.looms));
  const touches = once(() => touching(context));
  return {
    against: (placements) => {
      if (control.cancelled()) throw new Cancelled();
      const named = new Map(
        placements.flatMap(({ requirement, part }) =>
          requirement.kind === 'wire' ? [] : [[part.code, requirement.part] as const],
        ),
      );
      return [
        ...functionsChanged(context, placements),
        ...speaking()(runChecks(withPlacements(context, placements)), named),
      ];
    },
    meet: (a, b) => {
      const [of, other] = [touches()(a), touches()(b)];
      return [...of].some((place) => other.has(place));
    },
  };
}

/** What the checks look at, with these parts in their places. */
function withPlacements(context: CheckContext, placements: readonly Placement[]): CheckContext {
  const replaced = new Map(
    placements.flatMap(({ requirement, part }) =>
      requirement.kind === 'wire' ? [] : [[requirement.part, part] as const],
    ),
  );
  const wires = new Map(
    placements.flatMap(({ requirement, part }) =>
      requirement.kind === 'wire' && part.kind === 'wire'
        ? requirement.pieces.map(({ loom, wire }) => [`${loom} ${wire}`, specOf(part)] as const)
        : [],
    ),
  );
  const byLength = placements.some(({ requirement: { kind } }) => kind !== 'count');
  const { looms, kept } = loomsWith(context, { replaced, wires, layCoverings: byLength });
  const parts = new Map([...context.parts, ...kept, ...replaced]);
  // What lies in a branch and over it changes with what is bought by length alone.
  if (byLength) return contextOf(context.job, looms, { ...context, parts, isOnSale: () => false });
  const changed = looms.some((asked, index) => asked !== context.looms[index]);
  const circuits = changed ? circuitsOf(looms, parts) : context.circuits;
  const protection = protectionOf({ looms, parts, circuits, fits: context.fits });
  return { ...context, looms, parts, circuits, protection };
}

function once<T>(make: () => T): () => T {
  let made: { value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}
