import { byCode } from '../../model/code.ts';
import type { Part } from '../../model/part.ts';
import type { CountRequirement } from '../../model/result.ts';

/**
 * The tool that a family needs: one piece of any of the tools that work it. Undefined where the catalogue has none, or one
 * of them is on the shelf.
 */
export function toolFor(
  family: string,
  parts: readonly Part[],
  owned: ReadonlySet<string>,
): CountRequirement | undefined {
  const tools = parts
    .filter((part) => part.kind === 'tool' && (part.worksFamilies ?? []).includes(family))
    .sort((a, b) => byCode(a.code, b.code));
  const [first] = tools;
  if (!first || tools.some(({ code }) => owned.has(code))) return undefined;
  return {
    id: `tool:${family}`,
    kind: 'count',
    label: `a tool that works ${family}`,
    part: first.code,
    uses: [],
    used: 1,
    spares: 0,
    quantity: 1,
    servedBy: tools.map(({ code }) => code),
    steps: [
      {
        rule: 'tool',
        text: `parts of ${family} are bought, and none of its tools is in stock: 1 of ${tools.map(({ code }) => code).join(', ')}`,
        value: 1,
        unit: 'pieces',
      },
    ],
  };
}
