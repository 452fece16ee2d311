import { Readable } from 'node:stream';
import { runCommand } from '../../worker/price/command.ts';
import type { Folders } from '../../worker/price/folder/files.ts';
import type { Surroundings } from '../../worker/price/run.ts';

/** Folders in memory: path to the text of a file. */
export type Disk = Map<string, string>;

export const disk = (folder: string, files: Record<string, string>): Disk =>
  new Map(Object.entries(files).map(([name, text]) => [`${folder}/${name}`, text]));

const STARTER = [
  { kind: 'terminal', code: 'ring-s', description: 'Ring', terminalType: 'ring' },
  { kind: 'terminal', code: 'blade-s', description: 'Blade', terminalType: 'blade' },
];

export function foldersOn(files: Disk): Folders {
  return {
    names: async (folder) => {
      const names = [...files.keys()].filter((path) => path.startsWith(`${folder}/`));
      return names.length > 0 ? names.map((path) => path.slice(folder.length + 1)) : undefined;
    },
    open: (folder, name) => Readable.from([Buffer.from(files.get(`${folder}/${name}`) ?? '')]),
    starter: async () => STARTER,
    today: () => '2026-11-24',
  };
}

/** Runs the command on a disk in memory. */
export async function commandOn(files: Disk, ...argv: string[]) {
  let [printed, warned] = ['', ''];
  const around: Surroundings = {
    readFile: async (path) => {
      const text = files.get(path);
      if (text === undefined) throw Object.assign(new Error('not there'), { code: 'ENOENT' });
      return text;
    },
    writeFile: async (folder, name, text) => void files.set(`${folder}/${name}`, text),
    print: (text) => (printed += text),
    warn: (text) => (warned += text),
    progress: () => undefined,
    now: () => 0,
  };
  const code = await runCommand(argv, around, foldersOn(files));
  return { code, printed, warned };
}
