import { execFile } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import ts from 'typescript';
import { withMoved, type Constant } from './constant.ts';

const ROOT = join(import.meta.dirname, '..', '..', '..');
const SOURCES = [join('worker', 'engine'), join('test', 'trade')];
/** A constant that has the engine go on for ever is a fault of the list, and ends the run. */
const LONGEST_MS = 60_000;
const run = promisify(execFile);

/** The names of all values, and of those that fail. */
export interface Outcome {
  all: string[];
  failing: string[];
}

/** A copy of the engine and its values, in which constants can be moved; the working tree stays as it is. */
export interface Scratch {
  asItIs(): Promise<Outcome>;
  moved(constant: Constant, factor: number): Promise<Outcome>;
  remove(): void;
}

export function scratchCopy(): Scratch {
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-moved-'));
  const remove = () => rmSync(folder, { recursive: true, force: true });
  try {
    for (const path of SOURCES) cpSync(join(ROOT, path), join(folder, path), { recursive: true });
    cpSync(join(ROOT, 'package.json'), join(folder, 'package.json'));
    symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'), 'junction');
    for (const path of SOURCES) translate(join(folder, path));
  } catch (error) {
    remove();
    throw error;
  }
  const asItIs = () => outcomeIn(folder);
  const moved = async (constant: Constant, factor: number) => {
    const path = join(folder, 'worker', 'engine', constant.file);
    const source = readFileSync(path, 'utf8');
    writeFileSync(scriptOf(path), asScript(withMoved(source, constant, factor)));
    try {
      return await outcomeIn(folder);
    } catch (cause) {
      throw new Error(`${constant.file}: ${constant.text} times ${factor} could not be worked`, { cause });
    } finally {
      writeFileSync(scriptOf(path), asScript(source));
    }
  };
  return { asItIs, moved, remove };
}

const scriptOf = (path: string) => path.replace(/\.ts$/, '.js');

/** Writes a script beside each source: translated once here, not by each process. */
function translate(folder: string): void {
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    const path = join(folder, name);
    if (name.endsWith('.ts')) writeFileSync(scriptOf(path), asScript(readFileSync(path, 'utf8')));
  }
}

function asScript(source: string): string {
  const compilerOptions = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    verbatimModuleSyntax: true,
    rewriteRelativeImportExtensions: true,
  };
  return ts.transpileModule(source, { compilerOptions }).outputText;
}

/** In a process of its own, so that the modules are read anew. */
async function outcomeIn(folder: string): Promise<Outcome> {
  const script = join('test', 'trade', 'moved', 'failing.js');
  const { stdout } = await run(process.execPath, [script], { cwd: folder, timeout: LONGEST_MS });
  return JSON.parse(stdout) as Outcome;
}
