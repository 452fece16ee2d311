import { fileURLToPath } from 'node:url';
import { sideBySide } from './sideBySide.ts';

// All that `npm test` does: the check beside the tests, of which `npm test -- NAME` runs those of the files that have the name;
// `--long` has the fault tests do more rounds.
const vitest = fileURLToPath(new URL('../../node_modules/vitest/vitest.mjs', import.meta.url));

const given = process.argv.slice(2);
if (given.includes('--long')) process.env['LOOMWRIGHT_LONG'] = '1';

process.exitCode = await sideBySide(
  { name: 'npm run check', program: 'npm', args: ['run', 'check'] },
  {
    name: 'vitest',
    program: process.execPath,
    args: [vitest, 'run', ...given.filter((word) => word !== '--long')],
  },
  (line) => process.stdout.write(`${line}\n`),
);
