import { createReadStream } from 'node:fs';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { runCommand } from './price/command.ts';
import { starterCatalogue } from './price/folder/starter.ts';

// A reader that has seen enough, as in `| head`, is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

/** Beside this folder, where it runs from source; npm runs its scripts in the root of the package. */
const STARTER = join(process.cwd(), 'examples', 'starter');

let shown = 0;
const clearProgress = () => {
  if (shown > 0) process.stderr.write(`\r${' '.repeat(shown)}\r`);
  shown = 0;
};

const around = {
  readFile: (path: string) => readFile(path, 'utf8'),
  writeFile: async (folder: string, name: string, content: string | Uint8Array) => {
    await mkdir(folder, { recursive: true });
    await writeFile(join(folder, name), content);
  },
  filesIn: (folder: string) => readdir(folder),
  print: (text: string) => {
    clearProgress();
    process.stdout.write(text);
  },
  warn: (text: string) => {
    clearProgress();
    process.stderr.write(text);
  },
  oneTerminal: process.stdout.isTTY && process.stderr.isTTY,
  progress: (text: string) => {
    if (!process.stderr.isTTY) return;
    clearProgress();
    const line = text.slice(0, 100);
    process.stderr.write(line);
    shown = line.length;
  },
  now: () => performance.now(),
};
// The code is set and not the process ended: what is printed must reach the pipe first.
process.exitCode = await runCommand(process.argv.slice(2), around, {
  names: async (folder) => {
    try {
      return (await readdir(folder, { withFileTypes: true }))
        .filter((entry) => !entry.isDirectory())
        .map(({ name }) => name);
    } catch {
      return undefined;
    }
  },
  open: (folder, name) => createReadStream(join(folder, name)),
  starter: () => starterCatalogue(STARTER),
  today: () => new Date().toISOString().slice(0, 10),
});
