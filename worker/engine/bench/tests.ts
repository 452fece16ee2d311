import type { BenchTests } from '../model/benchTests.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';

/** What a meter must show on the bare loom. */
export function testsOf(_asked: AskedLoom, _context: CheckContext): BenchTests {
  return {
    circuits: [],
    neighbours: [],
    devices: [],
    fuses: [],
    loads: [],
    joinedInVehicle: [],
    notTested: [],
  };
}
