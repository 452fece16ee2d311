import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { choiceFaults, choiceTodo, optionSetsOf } from '../worker/engine/model/optionSets.ts';

/**
 * A finding for every option asked for that a loom does not have, and for every choice of which none or more than one is
 * asked for. `path` leads to the list of options in what was sent, `where` says in words where that stands.
 */
export function optionFindings(
  loom: { code: string; options?: readonly string[] | null | undefined },
  asked: readonly string[],
  { path, where }: { path: PropertyKey[]; where: string },
): Finding[] {
  const sets = optionSetsOf(loom.options);
  const has = sets.names.join(', ');
  const unknown = asked.flatMap((option, index): Finding[] =>
    sets.names.includes(option)
      ? []
      : [
          {
            code: 'unknown-option',
            severity: 'stop',
            at: pointer([...path, index]),
            where: `${where} number ${index + 1}`,
            found: JSON.stringify(option),
            ...(has === '' ? {} : { limit: `one of ${has}` }),
            todo:
              has === ''
                ? `The loom ${loom.code} has no options in this revision. Leave this out.`
                : `The loom ${loom.code} has the options ${has}. Name one of these, or leave this out.`,
          },
        ],
  );
  const choices = choiceFaults(sets, asked).map((fault): Finding => {
    const { code, oneOf, chosen, index } = fault;
    return {
      code,
      severity: 'stop',
      at: pointer(index === undefined ? path : [...path, index]),
      where: index === undefined ? where : `${where} number ${index + 1}`,
      found: chosen.length === 0 ? 'none of them' : chosen.join(' and '),
      limit: `exactly one of ${oneOf.join(', ')}`,
      todo: `${choiceTodo(fault, loom.code)}.`,
    };
  });
  return [...unknown, ...choices];
}
