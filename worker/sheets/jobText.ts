import { partCodesIn, withPartsMeant } from '../engine/model/didYouMean.ts';
import { faultsOf } from '../engine/model/faults.ts';
import { Job } from '../engine/model/job.ts';
import { jsonFault } from '../engine/model/jsonFault.ts';
import { readJob } from '../engine/model/upgrade.ts';
import { faultsText } from './faults.ts';

/** A job file's text as a job; or what to fix in it, in sentences that name the file. */
export function jobOfText(file: string, given: string): { job: Job } | { fix: string } {
  // Some editors put a byte order mark first.
  const text = given.replace(/^\uFEFF/, '');
  if (text.trim() === '')
    return { fix: `${file} is empty. Name a job file; examples/ has some to start from.` };
  let document: unknown;
  try {
    document = JSON.parse(text);
  } catch {
    const fault = jsonFault(text);
    const place = fault ? `: line ${fault.line}, column ${fault.column}: found ${fault.found}` : '';
    return {
      fix: `${file} is not JSON${place}. Fix it there. Often a comma or a quote just before is missing, or is one too many.`,
    };
  }
  const read = readJob(document);
  if (read.success) return { job: read.data };
  const faults = withPartsMeant(faultsOf(read.error, document, Job), () => partCodesIn(document));
  return { fix: faultsText(`${file} cannot be used`, faults) };
}
