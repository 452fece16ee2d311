import { pointer, type Finding } from '../worker/engine/model/finding.ts';

/**
 * A finding for every option asked for that a loom does not have. `path` leads to the list of options in what was sent,
 * `where` says in words where that stands.
 */
export function unknownOptions(
  loom: { code: string; options?: readonly string[] | null | undefined },
  asked: readonly string[],
  { path, where }: { path: PropertyKey[]; where: string },
): Finding[] {
  const has = loom.options ?? [];
  return asked.flatMap((option, index): Finding[] =>
    has.includes(option)
      ? []
      : [
          {
            code: 'unknown-option',
            severity: 'stop',
            at: pointer([...path, index]),
            where: `${where} number ${index + 1}`,
            found: JSON.stringify(option),
            ...(has.length > 0 ? { limit: `one of ${has.join(', ')}` } : {}),
            todo:
              has.length > 0
                ? `The loom ${loom.code} has the options ${has.join(', ')}. Name one of these, or leave it out.`
                : `The loom ${loom.code} has no options in this revision. Leave it out.`,
          },
        ],
  );
}
