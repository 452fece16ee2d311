// A worker thread cannot start from TypeScript: from source it starts here, which teaches it TypeScript first.
import { register } from 'tsx/esm/api';
register();
await import('./thread.ts');
