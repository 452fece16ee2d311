import { pointer, type Finding } from '../../worker/engine/model/finding.ts';

/** What a line of an archive names, as `word` and its name, and what is not there. */
export const notThere = (line: number, path: string, word: string, name: string): Finding => ({
  code: 'not-in-archive',
  severity: 'stop',
  at: pointer(path.split(', ')),
  where: `line ${line}, ${path}`,
  found: `${word} ${name}`,
  todo: 'The archive is incomplete: it does not have this. Take it again from where it came.',
});
