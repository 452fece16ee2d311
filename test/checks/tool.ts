import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const HOUSE = fileURLToPath(new URL('../..', import.meta.url));

/** Runs a tool of the house in `folder` and reads its report; an exit code that says "faults found" is no error here. */
export async function reportOf(folder: string, program: string, options: string[]): Promise<unknown> {
  const printed = await new Promise<string>((resolve, reject) => {
    execFile(
      process.execPath,
      [join(HOUSE, 'node_modules', program), ...options],
      { cwd: folder, maxBuffer: 256 * 1024 * 1024 },
      (error, stdout, stderr) =>
        stdout.startsWith('{')
          ? resolve(stdout)
          : reject(new Error(`${program} gives no report: ${stderr}`, { cause: error })),
    );
  });
  return JSON.parse(printed);
}
