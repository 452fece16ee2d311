import { total, type Report } from '../../db/archive/report.ts';
import { HttpProblem } from '../http/problem.ts';

/** Problem: 409, naming what differs. */
export function refuseDiffering(imported: Report): void {
  const differs = total(imported, 'differs');
  if (differs === 0) return;
  throw new HttpProblem(
    'conflict',
    `${differs === 1 ? 'One entry of the archive is' : `${differs} entries of the archive are`} in the club with another content, so nothing was written. An archive is restored into a club that has nothing yet, or that has the same.`,
    {
      findings: imported.differing.map(({ line, entry }) => ({
        code: 'differs-from-stored',
        severity: 'stop',
        at: '',
        where: `line ${line}`,
        found: `${entry}, with another content than in the club`,
        todo: 'Import into a new club, or make the two the same first.',
      })),
    },
  );
}
