import { fileURLToPath } from 'node:url';
import { sideBySide } from './sideBySide.ts';

// All that `npm test` does: the check beside the tests, of which `npm test -- NAME` runs those of the files that have the name.
const vitest = fileURLToPath(new URL('../../node_modules/vitest/vitest.mjs', import.meta.url));

process.exitCode = await sideBySide(
  { name: 'npm run check', program: 'npm', args: ['run', 'check'] },
  { name: 'vitest', program: process.execPath, args: [vitest, 'run', ...process.argv.slice(2)] },
  (line) => process.stdout.write(`${line}\n`),
);
