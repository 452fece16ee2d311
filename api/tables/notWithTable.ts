import { HttpProblem } from '../http/problem.ts';

/** Problem: 422 for what a query asks for beside a table. */
export function notWithTable(detail: string, names: readonly string[]): HttpProblem {
  return new HttpProblem('not-valid', detail, {
    findings: names.map((name) => ({
      code: 'not-with-csv',
      severity: 'stop',
      at: `/${name}`,
      where: 'query',
      found: name,
      todo: 'Leave it out, or ask for JSON.',
    })),
  });
}
