import type { Finding } from '../../engine/model/finding.ts';
import type { Job } from '../../engine/model/job.ts';
import type { NotYetUsed, Result } from '../../engine/model/result.ts';
import { fileOf } from '../../tables/tables.ts';
import type { Assembled } from './assemble.ts';
import { inWords, type InWords } from './folderWords.ts';
import { workedPlaces } from './workedPlaces.ts';

/** How what was found is told to whoever entered a job. */
export interface Speech {
  sentence(text: string): string;
  findings(found: readonly Finding[]): Finding[];
  /** A result with all that it says of the input told so. */
  result(result: Result): Result;
}

/** Of a job file: in its own words. */
export const AS_GIVEN: Speech = {
  sentence: (text) => text,
  findings: (found) => [...found],
  result: (result) => result,
};

/** Of a folder: in the words of its tables, with the file, the row and the column. */
export function folderSpeech(say: InWords, job: Job, assembled: Pick<Assembled, 'origins'>): Speech {
  let known: ReturnType<typeof workedPlaces> | undefined;
  const placeOf = (at: string) => (known ??= workedPlaces(job, assembled))(at);
  const told = (finding: Finding): Finding => {
    const place = placeOf(finding.at);
    const about = { table: place?.table };
    const where = say(finding.where, about);
    const words = { ...inWords(finding, say, about), where: place ? `${where} (${place.words})` : where };
    return finding.code === 'unsourced' ? { ...words, todo: inOffers(words.todo) } : words;
  };
  const notUsed = (used: NotYetUsed): NotYetUsed => {
    const place = placeOf(used.first);
    return place ? { ...used, first: place.words } : used;
  };
  return {
    sentence: (text) => say(text),
    findings: (found) => found.map(told),
    result: (result) => ({
      ...result,
      findings: result.findings.map(told),
      unsourced: result.unsourced.map((line) => ({
        ...line,
        why: say(line.why),
        todo: inOffers(say(line.todo)),
      })),
      notYetUsed: result.notYetUsed.map(notUsed),
      cautions: result.cautions.map((words) => say(words)),
    }),
  };
}

/** What is not sourced is bought once a row of the offers sells it. */
const inOffers = (todo: string) => `In ${fileOf('offers')}: ${todo}`;
