import { relative } from 'node:path';
import { table } from 'table';
import type { TestModule } from 'vitest/node';

/** How long one file took in one project, in ms: loading it, its hooks and its tests. */
export interface FileTime {
  project: string;
  file: string;
  ms: number;
}

export function fileTimes(modules: readonly TestModule[], root: string): FileTime[] {
  return modules.map((module) => {
    const { duration, collectDuration, setupDuration } = module.diagnostic();
    return {
      project: module.project.name,
      file: relative(root, module.moduleId),
      ms: duration + collectDuration + setupDuration,
    };
  });
}

/** The `most` files that took longest, the slowest first, as a table that ends with what all files took together. */
export function slowestTable(times: readonly FileTime[], most: number): string {
  const seconds = (ms: number) => (ms / 1000).toFixed(1);
  const slowest = [...times].sort((a, b) => b.ms - a.ms).slice(0, most);
  const all = times.reduce((sum, { ms }) => sum + ms, 0);
  return table([
    ['slowest files', 'project', 's'],
    ...slowest.map(({ file, project, ms }) => [file, project, seconds(ms)]),
    [`all ${times.length} files, not side by side`, '', seconds(all)],
  ]).trimEnd();
}
