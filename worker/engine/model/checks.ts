import { z } from 'zod';
import { Code } from './code.ts';
import { Finding } from './finding.ts';
import { LoomBranch } from './quotedLoom.ts';
import { LoomCircuit } from './result.ts';

/** What the checks say of one revision of a loom. */
export const Checks = z
  .strictObject({
    loom: Code,
    revision: z.int().min(1),
    options: z.array(z.string()),
    findings: z.array(Finding).meta({ description: 'The most serious first.' }),
    branches: z.array(LoomBranch),
    circuits: z.array(LoomCircuit),
  })
  .meta({
    id: 'Checks',
    description: 'What the checks found in one revision of a loom, with its branches and circuits.',
  });
export type Checks = z.infer<typeof Checks>;
