import type { TestModule } from 'vitest/node';

/** What a run came to. `skipReasons`: how many tests were skipped for each stated reason. */
export interface Tally {
  passed: number;
  failed: number;
  skipped: number;
  skipReasons: Map<string, number>;
}

/**
 * Counts the tests of all projects. A file that does not load, a hook that throws and an error that no test caught
 * count as one failure each: the tests they took with them never ran.
 */
export function tallyOf(modules: readonly TestModule[], unhandledErrors: number): Tally {
  const tally: Tally = { passed: 0, failed: unhandledErrors, skipped: 0, skipReasons: new Map() };
  for (const module of modules) {
    const brokenSuites = [...module.children.allSuites()].filter((suite) => suite.errors().length > 0);
    tally.failed += brokenSuites.length + (module.errors().length > 0 ? 1 : 0);
    for (const test of module.children.allTests()) {
      const result = test.result();
      if (result.state === 'passed') tally.passed++;
      else if (result.state === 'failed') tally.failed++;
      else {
        tally.skipped++;
        const reason = (result.state === 'skipped' && result.note) || projectReason(module);
        if (reason) tally.skipReasons.set(reason, (tally.skipReasons.get(reason) ?? 0) + 1);
      }
    }
  }
  return tally;
}

function projectReason({ project }: TestModule): string | null {
  return project.name === 'service' ? (project.getProvidedContext().serviceSkipReason ?? null) : null;
}

export function closingLine({ passed, failed, skipped }: Tally): string {
  return `${passed} passed, ${failed} failed, ${skipped} skipped`;
}
