import { expect } from 'vitest';
import { runPrice, type Surroundings } from '../../worker/price/run.ts';

/** Runs the price command on one file's text; nothing is read or written. */
export const run = (text: string | Error, ...flags: string[]) => runIn({}, text, ...flags);

export async function runIn(
  where: Pick<Surroundings, 'oneTerminal'>,
  text: string | Error,
  ...flags: string[]
) {
  const files = new Map<string, string>();
  let printed = '';
  let warned = '';
  const around: Surroundings = {
    ...where,
    readFile: async (path) => {
      expect(path).toBe('job.json');
      if (text instanceof Error) throw text;
      return text;
    },
    writeFile: async (folder, name, content) =>
      void files.set(`${folder}/${name}`, Buffer.from(content).toString()),
    filesIn: async () => [
      'order-oak.txt',
      'notes.txt',
      ...[...files.keys()].map((path) => path.slice('there/'.length)),
    ],
    print: (content) => (printed += content),
    warn: (content) => (warned += content),
    progress: () => undefined,
    now: () => 0,
  };
  const code = await runPrice(['job.json', ...flags], around);
  return { code, printed, warned, files };
}
