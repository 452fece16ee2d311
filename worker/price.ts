import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { runPrice } from './price/run.ts';

// A reader that has seen enough, as in `| head`, is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

let shown = 0;
const clearProgress = () => {
  if (shown > 0) process.stderr.write(`\r${' '.repeat(shown)}\r`);
  shown = 0;
};

// The code is set and not the process ended: what is printed must reach the pipe first.
process.exitCode = await runPrice(process.argv.slice(2), {
  readFile: (path) => readFile(path, 'utf8'),
  writeFile: async (folder, name, text) => {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, name), text);
  },
  print: (text) => {
    clearProgress();
    process.stdout.write(text);
  },
  warn: (text) => {
    clearProgress();
    process.stderr.write(text);
  },
  progress: (text) => {
    if (!process.stderr.isTTY) return;
    clearProgress();
    const line = text.slice(0, 100);
    process.stderr.write(line);
    shown = line.length;
  },
  now: () => performance.now(),
});
