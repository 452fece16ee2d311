import { Readable } from 'node:stream';
import { runCommand } from '../../worker/price/command.ts';
import type { Folders } from '../../worker/price/folder/files.ts';
import type { Surroundings } from '../../worker/price/run.ts';

/** Folders in memory: path to the text of a file. */
export type Disk = Map<string, string>;

export const disk = (folder: string, files: Record<string, string>): Disk =>
  new Map(Object.entries(files).map(([name, text]) => [`${folder}/${name}`, text]));

const blade = { kind: 'terminal', description: 'Blade', terminalType: 'blade' };
const STARTER = {
  parts: [
    { kind: 'terminal', code: 'ring-s', description: 'Ring', terminalType: 'ring' },
    { ...blade, code: 'blade-s' },
    { ...blade, code: 'blade-t' },
    { kind: 'cover', code: 'cover-s', description: 'Cover', coverType: 'terminalCover' },
    { kind: 'boot', code: 'boot-s', description: 'Boot', boreMm: 4 },
  ],
  fits: [
    { from: 'cover-s', relation: 'covers', to: 'blade-s' },
    { from: 'boot-s', relation: 'covers', to: 'ring-s' },
    { from: 'blade-s', relation: 'mates', to: 'blade-t' },
  ],
};

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

/** Runs the command on a disk in memory; where an error is given, no table can be read for it. */
export async function commandOn(files: Disk, ...given: (string | Error)[]) {
  const argv = given.filter((each) => typeof each === 'string');
  const fault = given.find((each) => each instanceof Error);
  let [printed, warned] = ['', ''];
  const around: Surroundings = {
    readFile: async (path) => {
      const text = files.get(path);
      if (text === undefined) throw Object.assign(new Error('not there'), { code: 'ENOENT' });
      return text;
    },
    writeFile: async (folder, name, text) =>
      void files.set(`${folder}/${name}`, Buffer.from(text).toString()),
    print: (text) => (printed += text),
    warn: (text) => (warned += text),
    progress: () => undefined,
    now: () => 0,
  };
  const folders = foldersOn(files);
  const code = await runCommand(
    argv,
    around,
    fault
      ? {
          ...folders,
          open: () =>
            Readable.from(
              (async function* () {
                throw fault;
                yield Buffer.from('');
              })(),
            ),
        }
      : folders,
  );
  return { code, printed, warned };
}
