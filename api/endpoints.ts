import type { AnyEndpoint } from './http/endpoint.ts';
import { archiveRoutes } from './routes/archive.ts';
import { catalogueRoutes } from './routes/catalogue.ts';
import { checkRoutes } from './routes/checks.ts';
import { clubRoutes } from './routes/club.ts';
import { searchRoutes } from './routes/search.ts';
import { fitRoutes } from './routes/fits.ts';
import { loomRoutes } from './routes/looms.ts';
import { quoteRoutes } from './routes/quotes.ts';
import { sheetRoutes } from './routes/sheets.ts';
import { tableRoutes } from './routes/tables.ts';
import { taskRoutes } from './routes/tasks.ts';
import { winningPriceRoutes } from './routes/winningPrices.ts';

/** All that the app serves under /v1. */
export const ENDPOINTS: readonly AnyEndpoint[] = [
  ...searchRoutes,
  ...catalogueRoutes,
  ...fitRoutes,
  ...loomRoutes,
  ...tableRoutes,
  ...checkRoutes,
  ...quoteRoutes,
  ...sheetRoutes,
  ...winningPriceRoutes,
  ...taskRoutes,
  ...clubRoutes,
  ...archiveRoutes,
];
