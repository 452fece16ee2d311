import { faultsOf } from '../engine/model/faults.ts';
import { Job } from '../engine/model/job.ts';
import { jsonFault } from '../engine/model/jsonFault.ts';
import { readJob } from '../engine/model/upgrade.ts';
import { faultsText } from './faults.ts';

/** A job file's text as a job; or what to mend in it, in sentences that name the file. */
export function jobOfText(file: string, given: string): { job: Job } | { mend: string } {
  // Some editors put a byte order mark first.
  const text = given.replace(/^\uFEFF/, '');
  if (text.trim() === '')
    return { mend: `${file} is empty. Name a job file; examples/ has some to start from.` };
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    const fault = jsonFault(text);
    const place = fault ? `: line ${fault.line}, column ${fault.column}: found ${fault.found}` : '';
    return {
      mend: `${file} is not JSON${place}. Mend it there; often a comma or a quote is missing or too much just before.`,
    };
  }
  const read = readJob(document);
  return read.success
    ? { job: read.data }
    : { mend: faultsText(`${file} cannot be worked`, faultsOf(read.error, document, Job)) };
}
