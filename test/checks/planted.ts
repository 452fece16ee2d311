import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { HOUSE } from './tool.ts';

const RULES = ['.dependency-cruiser.cjs', 'tsconfig.json', 'package.json', 'knip.json', 'vitest.config.ts'];

/** A small house in a folder of its own, under the rules of this one: `files` by path, with their text. */
export function plantHouse(files: Record<string, string>): { folder: string; remove(): void } {
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-planted-'));
  for (const rules of RULES) copyFileSync(join(HOUSE, rules), join(folder, rules));
  symlinkSync(join(HOUSE, 'node_modules'), join(folder, 'node_modules'));
  for (const [path, text] of Object.entries(files)) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
