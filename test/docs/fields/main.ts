import { writeFileSync } from 'node:fs';
import { fieldsPage } from './page.ts';

// Writes docs/fields.md anew.
writeFileSync(new URL('../../../docs/fields.md', import.meta.url), fieldsPage());
