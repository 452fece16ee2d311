import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Fonts } from '../sheets/pdf/ink.ts';

const { resolve } = createRequire(import.meta.url);

/** The fonts of all PDFs: Source Sans 3, under the SIL Open Font License 1.1. */
export function readFonts(): Fonts {
  return {
    regular: readFileSync(resolve('@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf')),
    bold: readFileSync(resolve('@expo-google-fonts/source-sans-3/700Bold/SourceSans3_700Bold.ttf')),
  };
}
