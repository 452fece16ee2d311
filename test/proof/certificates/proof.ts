import { Job } from '../../../worker/engine/model/job.ts';
import type { Closing } from '../../../worker/engine/sourcing/search/certificate.ts';
import { problemOf } from '../../bench/direct.ts';
import { shopsJob, type Shops } from '../../bench/shops.ts';
import { untilSeconds } from '../../bench/untilSeconds.ts';
import { certified, wrongAmong } from './judged.ts';
import { closesAll } from './nothingOpen.ts';

export const CLOSINGS = [
  'node',
  'parcel',
  'unused',
  'plans',
  'choices',
] as const satisfies readonly Closing['what'][];

/** How the certificates of some instances came out. */
export interface CertificateProof {
  instances: number;
  proven: number;
  /** Instances of whose mixes the certificates leave none out. */
  whole: number;
  /** Of instances with something that is not recomputed: by what that is. */
  skipped: Record<string, number>;
  /** By what they close: how many there are, and how many of them hold. */
  written: Record<Closing['what'], number>;
  right: Record<Closing['what'], number>;
  /** In words. */
  wrong: string[];
  solvingSeconds: number;
  checkingSeconds: number;
}

/** Every instance solved within so many seconds, and every certificate of it recomputed; seconds of processor. */
export async function certificateProof(
  instances: readonly Shops[],
  limitSeconds: number,
): Promise<CertificateProof> {
  const none = () => ({ node: 0, parcel: 0, unused: 0, plans: 0, choices: 0 });
  const proof: CertificateProof = {
    instances: instances.length,
    proven: 0,
    whole: 0,
    skipped: {},
    written: none(),
    right: none(),
    wrong: [],
    solvingSeconds: 0,
    checkingSeconds: 0,
  };
  for (const shops of instances) {
    const problem = problemOf(Job.parse(shopsJob(shops)));
    const solving = process.cpuUsage();
    const found = await certified(problem, untilSeconds(limitSeconds));
    proof.solvingSeconds += secondsSince(solving);
    if (found.proven) proof.proven++;
    const checking = process.cpuUsage();
    const wrong = wrongAmong(problem, found);
    if (closesAll(problem, found.certificates)) proof.whole++;
    proof.checkingSeconds += secondsSince(checking);
    if (typeof wrong === 'string') {
      proof.skipped[wrong] = (proof.skipped[wrong] ?? 0) + 1;
      continue;
    }
    found.certificates.forEach(({ closes }, at) => {
      proof.written[closes.what]++;
      const words = wrong[at];
      if (words === undefined) proof.right[closes.what]++;
      else
        proof.wrong.push(`${shops.correlated ? 'correlated ' : ''}${shops.seed}, ${closes.what}: ${words}`);
    });
  }
  return proof;
}

function secondsSince(start: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}
