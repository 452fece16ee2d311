import { reportOf } from './tool.ts';

export interface Violation {
  from: string;
  to: string;
  rule: string;
}

interface Report {
  summary: { totalCruised: number; violations: { from: string; to: string; rule: { name: string } }[] };
}

/** Runs dependency-cruiser as `npm run check:arrows` does, on the house in `folder`. */
export async function cruise(folder: string): Promise<{ modules: number; violations: Violation[] }> {
  const options = ['--config', '.dependency-cruiser.cjs', '--output-type', 'json'];
  const { summary } = (await reportOf(folder, 'dependency-cruiser/bin/dependency-cruise.mjs', [
    ...['api', 'worker', 'db', 'test'],
    ...options,
  ])) as Report;
  return {
    modules: summary.totalCruised,
    violations: summary.violations.map(({ from, to, rule }) => ({ from, to, rule: rule.name })),
  };
}
