import { byCode } from '../model/code.ts';
import { addTo } from '../model/group.ts';
import type { Job, JobLoom } from '../model/job.ts';
import { OPTIONAL_LISTS } from '../model/loomLists.ts';
import { standsWith, withOptions } from '../model/loomOptions.ts';
import { optionsOf } from '../model/request.ts';
import { othersMet, type Unclear } from './othersMet.ts';

type Line = Job['request']['looms'][number];

/** A loom of the job as it is made with one set of options. Two sets of one loom are two made looms. */
export interface MadeLoom {
  /** The loom's own code. */
  code: string;
  /** Its place in the job's list of looms. */
  place: number;
  options: string[];
  lines: Line[];
  /**
   * What stands with these options. Its `code` names it among the made looms: the loom's own, with the options beside it
   * where the loom is made with several sets: "van-front (RHD)". What another loom brings or is plugged into names that
   * one in the same way.
   */
  loom: JobLoom;
  unclear: readonly Unclear[];
}

/** Every loom that the request asks for, once for each set of options, in the order of codes and names. */
export function madeLooms(job: Pick<Job, 'looms' | 'request'>): MadeLoom[] {
  const lines = new Map<string, Line[]>();
  for (const line of job.request.looms) addTo(lines, line.loom, line);
  const made = job.looms.flatMap((loom, place): MadeLoom[] => {
    const sets = new Map<string, Line[]>();
    for (const line of lines.get(loom.code) ?? []) addTo(sets, JSON.stringify(optionsOf(line)), line);
    return [...sets.values()]
      .map((own): MadeLoom => {
        const options = own[0] ? optionsOf(own[0]) : [];
        const code = sets.size > 1 ? nameOf(loom.code, options) : loom.code;
        return {
          code: loom.code,
          place,
          options,
          lines: own,
          loom: { ...withOptions(loom, options), code },
          unclear: [],
        };
      })
      .sort((a, b) => byCode(a.loom.code, b.loom.code));
  });
  return made.length === new Set(made.map(({ code }) => code)).size ? made : othersMet(made);
}

const NO_OPTIONS = 'no options';

/** "van-front (RHD, overdrive)". Codes hold no brackets, and options that could be read as something else are quoted. */
function nameOf(code: string, options: readonly string[]): string {
  const words = options.map((option) =>
    /[",()]/.test(option) || option === NO_OPTIONS ? JSON.stringify(option) : option,
  );
  return `${code} (${words.join(', ') || NO_OPTIONS})`;
}

/** For each list of the job's loom, where the things of a made loom stand in it. */
export function placesInJob(job: JobLoom, options: readonly string[]): Map<string, number[]> {
  return new Map(
    OPTIONAL_LISTS.map((list) => [
      list,
      job[list].flatMap((item, index) => (standsWith(item, options) ? [index] : [])),
    ]),
  );
}
