import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { AskedLoom } from '../asked.ts';

/**
 * The findings, where those that a loom accepts as original are notes that say why; and a note for each acceptance that
 * accepts nothing. A loom accepts its own findings alone, by code and subject.
 */
export function acceptFindings(findings: readonly Finding[], looms: readonly AskedLoom[]): Finding[] {
  const notes = new Map(
    looms.flatMap(({ loom, index }) =>
      loom.asOriginal.map(({ finding, subject, note }) => [keyOf(index, finding, subject), note] as const),
    ),
  );
  if (notes.size === 0) return [...findings];
  const used = new Set<string>();
  const judged = findings.map((finding): Finding => {
    const key = keyOfFinding(finding);
    const note = key === undefined ? undefined : notes.get(key);
    if (key === undefined || note === undefined) return finding;
    used.add(key);
    return { ...finding, severity: 'note', accepted: note };
  });
  const made = new Map<string, AskedLoom[]>();
  for (const asked of looms) addTo(made, asked.code, asked);
  return [...judged, ...[...made.values()].flatMap((alike) => idle(alike, used))];
}

/** Of a loom that is made with several sets of options: what none of them needs. */
function idle(alike: readonly AskedLoom[], used: ReadonlySet<string>): Finding[] {
  const [first] = alike;
  if (!first) return [];
  const { loom, index, code } = first;
  return loom.asOriginal.flatMap(({ finding, subject }, at): Finding[] => {
    if (alike.some((asked) => used.has(keyOf(asked.index, finding, subject)))) return [];
    return [
      {
        code: 'accepted-nothing',
        severity: 'note',
        at: pointer(['looms', index, 'asOriginal', at]),
        where: `loom ${code}, asOriginal`,
        found: `${finding} at ${subject} is accepted, but the checks do not find it`,
        todo: 'Remove it, or correct its code and subject. It may still be needed when the loom is made with other options.',
      },
    ];
  });
}

/**
 * Whether a loom accepts what is found of a part that stands in another's place: as it accepts it of the part that it names.
 *
 * @param named by the code of a part, the part in whose place it stands
 */
export function isAccepted(
  finding: Finding,
  looms: readonly AskedLoom[],
  named: ReadonlyMap<string, string>,
): boolean {
  const index = loomOf(finding);
  const accepting = looms.find((asked) => asked.index === index)?.loom.asOriginal ?? [];
  const { code, subject = '' } = finding;
  const [, part, place = ''] = /^part:([^@]*)(@.*)?$/.exec(subject) ?? [];
  const other = part === undefined ? undefined : named.get(part);
  const subjects = [subject, ...(other === undefined ? [] : [`part:${other}${place}`])];
  return accepting.some((each) => each.finding === code && subjects.includes(each.subject));
}

const keyOf = (loom: number, code: string, subject: string) => JSON.stringify([loom, code, subject]);

/** Whose finding it is stands at the start of its pointer. */
function keyOfFinding(finding: Finding): string | undefined {
  const loom = loomOf(finding);
  const { code, subject } = finding;
  return loom === undefined || subject === undefined ? undefined : keyOf(loom, code, subject);
}

function loomOf({ at }: Finding): number | undefined {
  const loom = /^\/looms\/(\d+)(\/|$)/.exec(at)?.[1];
  return loom === undefined ? undefined : Number(loom);
}
