import { pointer, type Finding } from '../../model/finding.ts';
import type { JobLoom } from '../../model/job.ts';
import { optionalThings } from '../../model/loomOptions.ts';
import { optionSetsOf } from '../../model/optionSets.ts';
import type { AskedLoom } from '../asked.ts';
import type { CheckContext } from './context.ts';

/**
 * Looms of which nothing is left with the options chosen; looms with options of which none is chosen; and options that
 * change nothing, chosen or not.
 */
export function checkOptions({ looms, job }: CheckContext): Finding[] {
  return looms.flatMap((asked): Finding[] => {
    const { loom, index, options } = asked;
    const { names } = optionSetsOf(loom.options);
    if (names.length === 0) return [];
    const place = {
      at: pointer(['looms', index, 'options']),
      where: `loom ${loom.code}`,
      subject: `loom:${loom.code}`,
      limit: names.join(', '),
    };
    if (isEmpty(loom))
      return [
        {
          ...place,
          code: 'nothing-with-options',
          severity: 'warning',
          found: `nothing is left of the loom with ${options.length === 0 ? 'none of its options' : options.join(', ')}`,
          todo: 'Choose the options with which the loom is made.',
        },
      ];
    const named = new Set(optionsNamed(job.looms[asked.place]));
    const idle = [...withoutEffect(asked, named), ...withoutEffectHere(asked, named)];
    if (options.length > 0 || named.size === 0) return idle;
    return [
      ...idle,
      {
        ...place,
        code: 'options-not-chosen',
        severity: 'note',
        found: 'none of the loom’s options is chosen: only what is always in the loom is counted',
        todo: 'If the loom is made with options, choose them.',
      },
    ];
  });
}

function isEmpty({ points, wires, cables, coverings, fittings, parts }: JobLoom): boolean {
  return (
    [wires, cables, coverings, fittings, parts].every(({ length }) => length === 0) &&
    points.every(({ part }) => part === undefined)
  );
}

/** Every option that a thing of the loom names, whether that thing is in the job or was left out of it. */
function optionsNamed(loom: JobLoom | undefined): string[] {
  if (!loom) return [];
  return [...optionalThings(loom).flatMap(({ options = [] }) => options), ...(loom.optionsLeftOut ?? [])];
}

/** Options, and choices, that no thing of the loom names. */
function withoutEffect({ loom, index }: AskedLoom, named: ReadonlySet<string>): Finding[] {
  const { names, oneOf } = optionSetsOf(loom.options);
  const inChoices = new Set(oneOf.flat());
  const sets = [...names.filter((name) => !inChoices.has(name)).map((name) => [name]), ...oneOf];
  return sets
    .filter((set) => set.every((name) => !named.has(name)))
    .map((set): Finding => ({
      code: 'option-without-effect',
      severity: 'note',
      at: pointer(['looms', index, 'options']),
      where: `loom ${loom.code}`,
      subject: `option:${set.join(' | ')}`,
      found: `nothing in the loom names ${set.join(' or ')}: chosen or not, the loom is the same`,
      todo: 'State it at the wires and parts that the loom has only with it, or remove it from the options of the loom.',
    }));
}

/** Options that are chosen while all that names them asks for other options too. */
function withoutEffectHere({ loom, index, options }: AskedLoom, named: ReadonlySet<string>): Finding[] {
  const inChoices = new Set(optionSetsOf(loom.options).oneOf.flat());
  const there = new Set(optionalThings(loom).flatMap((thing) => thing.options ?? []));
  return options
    .filter((option) => named.has(option) && !there.has(option) && !inChoices.has(option))
    .map((option) => ({
      code: 'option-without-effect',
      severity: 'note',
      at: pointer(['looms', index, 'options']),
      where: `loom ${loom.code}`,
      subject: `option:${option}`,
      found: `${option} is chosen, but everything with it also needs other options, which are not chosen`,
      todo: 'Choose the other options too, or remove this one from the request.',
    }));
}
