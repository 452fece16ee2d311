import type { Reporter, SerializedError, TestModule, Vitest } from 'vitest/node';
import { fileTimes, slowestTable } from './slowest.ts';
import { closingLine, tallyOf, type Tally } from './tally.ts';

const MOST_FILES = 10;

/** Ends the run's output with the files that took longest, and the count over all projects, alone on the last line. */
export default class SummaryReporter implements Reporter {
  #tally: Tally | null = null;
  #slowest: string[] = [];
  #root = '';
  #watching = false;

  onInit(vitest: Vitest): void {
    this.#watching = vitest.config.watch;
    this.#root = vitest.config.root;
    // Whatever else the run prints (other reporters, the servers' teardown) comes before the end of its process.
    if (!this.#watching) process.once('exit', (code) => this.#print(code));
  }

  onTestRunEnd(modules: readonly TestModule[], errors: readonly SerializedError[]): void {
    this.#tally = tallyOf(modules, errors.length);
    this.#slowest = modules.length > 1 ? [slowestTable(fileTimes(modules, this.#root), MOST_FILES)] : [];
    if (this.#watching) this.#print(0);
  }

  #print(exitCode: number): void {
    const lines = [...this.#slowest];
    if (this.#tally === null) lines.push('The run was ended before its tests were counted.');
    const tally = this.#tally ?? tallyOf([], 0);
    for (const [reason, count] of tally.skipReasons) lines.push(`${count} skipped: ${reason}`);
    // A run can fail without a failing test, say where the servers do not start; the line must not look like success.
    if (exitCode !== 0 && tally.failed === 0) tally.failed = 1;
    process.stdout.write(`${[...lines, closingLine(tally)].join('\n')}\n`);
  }
}
