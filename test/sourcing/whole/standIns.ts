import type { Job } from '../../../worker/engine/model/job.ts';
import type { Rules } from './rules.ts';

/** The parts that may stand in for a part as the catalogue, the fits and the settings have it, whatever their family. */
export function standInsFor(job: Job, part: string, rules: Rules): string[] {
  const accepted = job.request.settings?.standInsAccepted ??
    job.club.settings.standInsAccepted ?? ['confirmed'];
  return job.parts
    .map(({ code }) => code)
    .filter((code) => {
      const known = statuses(job, code, part);
      if (!rules.standInStatus) return known.length > 0;
      return !known.includes('refuted') && accepted.some((status) => known.includes(status));
    });
}

/** What is said of one part in place of another, by the part itself and by the fits. */
function statuses(job: Job, from: string, to: string): ('confirmed' | 'proposed' | 'refuted')[] {
  const stated = job.parts
    .filter(({ code }) => code === from)
    .flatMap(({ standsInFor = [] }) => standsInFor)
    .filter((entry) => 'part' in entry && entry.part === to)
    .map(({ confirmedBy }) => (confirmedBy === undefined ? ('proposed' as const) : ('confirmed' as const)));
  const fits = job.fits.filter((fit) => fit.relation === 'standsInFor' && fit.from === from && fit.to === to);
  return [...stated, ...fits.map(({ status }) => status)];
}
