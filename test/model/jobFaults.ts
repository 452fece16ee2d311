import { faultsOf } from '../../worker/engine/model/faults.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';

/** What is found in a job document: nothing where it is sound. */
export function jobFaults(document: unknown): Finding[] {
  const read = readJob(document);
  return read.success ? [] : faultsOf(read.error, document, Job);
}
