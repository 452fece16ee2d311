import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import type { AskedLoom } from './asked.ts';
import { placesInJob } from './madeLooms.ts';

/**
 * Findings with pointers into the job, in which a loom stands once whatever it is made with. What is found alike with
 * every set of options of a loom is told once, of the loom.
 */
export function inJob(
  findings: readonly Finding[],
  looms: readonly AskedLoom[],
  job: Pick<Job, 'looms'>,
): Finding[] {
  const byIndex = new Map(looms.map((asked) => [asked.index, asked]));
  const made = new Map<string, AskedLoom[]>();
  for (const asked of looms) addTo(made, asked.code, asked);
  const several = (asked: AskedLoom) => (made.get(asked.code)?.length ?? 0) > 1;
  if (looms.every((asked) => asked.index === asked.place && !several(asked))) return [...findings];

  const places = new Map<AskedLoom, ReadonlyMap<string, number[]>>();
  const placesOf = (asked: AskedLoom) => {
    const loom = job.looms[asked.place];
    const known =
      places.get(asked) ?? (loom ? placesInJob(loom, asked.options) : new Map<string, number[]>());
    places.set(asked, known);
    return known;
  };
  const alike = new Map<string, { asked: AskedLoom | undefined; finding: Finding }[]>();
  for (const finding of findings) {
    const [, index, within = ''] = /^\/looms\/(\d+)(\/.*)?$/.exec(finding.at) ?? [];
    const asked = index === undefined ? undefined : byIndex.get(Number(index));
    const at = asked ? `${pointer(['looms', asked.place])}${placed(within, placesOf(asked))}` : finding.at;
    const placedThere = { ...finding, at };
    const key = asked && several(asked) ? ofLoom(placedThere, asked) : placedThere;
    addTo(alike, JSON.stringify(key), { asked, finding: placedThere });
  }
  return [...alike.values()].flatMap((same) => {
    const [first] = same;
    const all = first?.asked && made.get(first.asked.code);
    return first?.asked &&
      all &&
      all.length > 1 &&
      new Set(same.map(({ asked }) => asked)).size === all.length
      ? [ofLoom(first.finding, first.asked)]
      : same.map(({ finding }) => finding);
  });
}

/** "/wires/3/from" of the made loom as one of the job's. */
function placed(within: string, places: ReadonlyMap<string, number[]>): string {
  const [, list = '', index = '', rest = ''] = /^\/([^/]+)\/(\d+)(.*)$/.exec(within) ?? [];
  const place = places.get(list)?.[Number(index)];
  return place === undefined ? within : `${pointer([list, place])}${rest}`;
}

/** The finding as one of the loom, whatever its options. */
function ofLoom(finding: Finding, { loom, code }: AskedLoom): Finding {
  const named = `loom ${loom.code}`;
  const { where } = finding;
  return { ...finding, where: where.startsWith(named) ? `loom ${code}${where.slice(named.length)}` : where };
}

/** Findings with subjects that name looms by their own codes, so that one acceptance holds with all sets of options. */
export function withOwnSubjects(findings: readonly Finding[], looms: readonly AskedLoom[]): Finding[] {
  const renamed = looms.filter(({ loom, code }) => loom.code !== code);
  if (renamed.length === 0) return [...findings];
  return findings.map((finding) => {
    const [, kind = '', name = ''] = /^([^:]*:)(.*)$/s.exec(finding.subject ?? '') ?? [];
    const asked = renamed.find(({ loom }) => name === loom.code || name.startsWith(`${loom.code}/`));
    return asked
      ? { ...finding, subject: `${kind}${asked.code}${name.slice(asked.loom.code.length)}` }
      : finding;
  });
}
