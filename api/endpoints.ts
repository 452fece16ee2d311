import type { AnyEndpoint } from './http/endpoint.ts';
import { archiveRoutes } from './routes/archive.ts';
import { catalogueRoutes } from './routes/catalogue.ts';
import { checkRoutes } from './routes/checks.ts';
import { clubRoutes } from './routes/club.ts';
import { fitReportRoutes } from './routes/fitReports.ts';
import { fitRoutes } from './routes/fits.ts';
import { keyRoutes } from './routes/keys.ts';
import { loomRoutes } from './routes/looms.ts';
import { priceRoutes } from './routes/prices.ts';
import { memberRoutes } from './routes/members.ts';
import { mergingRoutes } from './routes/merging.ts';
import { movementRoutes } from './routes/movements.ts';
import { cutRoutes } from './routes/cuts.ts';
import { orderEntryRoutes } from './routes/orderEntries.ts';
import { orderRoutes } from './routes/orders.ts';
import { reservationRoutes } from './routes/reservations.ts';
import { proposalRoutes } from './routes/proposals.ts';
import { quoteRoutes } from './routes/quotes.ts';
import { recordRoutes } from './routes/record.ts';
import { searchRoutes } from './routes/search.ts';
import { shelfSheetRoutes } from './routes/shelfSheets.ts';
import { sheetRoutes } from './routes/sheets.ts';
import { tableRoutes } from './routes/tables.ts';
import { taskRoutes } from './routes/tasks.ts';
import { winningPriceRoutes } from './routes/winningPrices.ts';

/** All that the app serves under /v1. */
export const ENDPOINTS: readonly AnyEndpoint[] = [
  ...searchRoutes,
  ...catalogueRoutes,
  ...movementRoutes,
  ...fitRoutes,
  ...fitReportRoutes,
  ...proposalRoutes,
  ...mergingRoutes,
  ...loomRoutes,
  ...tableRoutes,
  ...checkRoutes,
  ...priceRoutes,
  ...quoteRoutes,
  ...cutRoutes,
  ...orderRoutes,
  ...orderEntryRoutes,
  ...reservationRoutes,
  ...shelfSheetRoutes,
  ...sheetRoutes,
  ...winningPriceRoutes,
  ...taskRoutes,
  ...clubRoutes,
  ...memberRoutes,
  ...keyRoutes,
  ...recordRoutes,
  ...archiveRoutes,
];
