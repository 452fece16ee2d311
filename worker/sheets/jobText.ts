import { partCodesIn, withPartsMeant } from '../engine/model/didYouMean.ts';
import { faultsOf } from '../engine/model/faults.ts';
import { Job } from '../engine/model/job.ts';
import { JSON_DEPTH, readJson } from '../engine/model/readJson.ts';
import { readJob } from '../engine/model/upgrade.ts';
import { faultsText } from './faults.ts';

/** Of the largest job that the model takes, with room to spare. */
const MOST_VALUES = 50_000_000;

/** A job file's text as a job; or what to fix in it, in sentences that name the file. */
export function jobOfText(file: string, given: string): { job: Job } | { fix: string } {
  // Some editors put a byte order mark first.
  const text = given.replace(/^\uFEFF/, '');
  if (text.trim() === '')
    return { fix: `${file} is empty. Name a job file; examples/ has some to start from.` };
  const json = readJson(text, { depth: JSON_DEPTH, values: MOST_VALUES });
  if ('findings' in json) return { fix: faultsText(`${file} cannot be used`, json.findings) };
  if ('tooMany' in json)
    return { fix: `${file} has more than ${MOST_VALUES} values, counted up to line ${json.tooMany.line}.` };
  if (!('value' in json)) {
    const { line, column, found } =
      'notJson' in json ? json.notJson : { line: 1, column: 1, found: 'nothing' };
    return {
      fix: `${file} is not JSON: line ${line}, column ${column}: found ${found}. Fix it there. Often a comma or a quote just before is missing, or is one too many.`,
    };
  }
  const document = json.value;
  const read = readJob(document);
  if (read.success) return { job: read.data };
  const faults = withPartsMeant(faultsOf(read.error, document, Job), () => partCodesIn(document));
  return { fix: faultsText(`${file} cannot be used`, faults) };
}
