import type { TestHouse } from './house.ts';
import type { Processes, Started } from './processes.ts';

/** A worker process of a house, ready to work. Service mode. */
export async function workerOf(
  started: Processes,
  house: TestHouse,
  env: Record<string, string> = {},
): Promise<Started> {
  const process = started.node(['worker/main.ts'], { ...house.environment, ...env });
  await process.until(/"msg":"working"/, 60_000);
  return process;
}

/** An API process of a house, and the address at which it answers. Service mode. */
export async function apiOf(started: Processes, house: TestHouse): Promise<{ api: Started; url: string }> {
  const api = started.node(['api/main.ts'], { ...house.environment, PORT: '0' });
  const [, url = ''] = await api.until(/answers at (http:\S+) /, 60_000);
  return { api, url };
}
