import { execFileSync, spawnSync } from 'node:child_process';

/** poppler's pdftotext, which these tests read PDFs back with. */
export const hasPdfReader = spawnSync('pdftotext', ['-v']).error === undefined;

/** The text of each page of a PDF, as another program reads it. */
export function pagesOf(pdf: Uint8Array): string[] {
  const text = execFileSync('pdftotext', ['-layout', '-', '-'], { input: pdf, maxBuffer: 1e9 }).toString();
  return text.split('\f').slice(0, -1);
}
