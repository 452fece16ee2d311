import { readFileSync, writeFileSync } from 'node:fs';
import { fieldsPage } from './page.ts';
import { problemsPage } from './problemsPage.ts';
import { settingsTable } from './settingsTable.ts';

const page = (name: string) => new URL(`../../../docs/${name}`, import.meta.url);

// Writes docs/fields.md and docs/problems.md anew, and the table of docs/settings.md.
writeFileSync(page('fields.md'), fieldsPage());
writeFileSync(page('problems.md'), problemsPage());
const settings = readFileSync(page('settings.md'), 'utf8');
writeFileSync(page('settings.md'), settings.replace(/\n\| setting[\s\S]*$/, `\n${settingsTable()}`));
