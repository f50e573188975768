/** Every route of the service, by room. */
import type { App } from '../../app/context.ts';
import { publicRoutes, type Routes } from '../access.ts';
import { accessRoutes } from './access-routes.ts';
import { attachmentRoutes } from './attachment-routes.ts';
import { bulkRoutes } from './bulk-routes.ts';
import { catalogueRoutes } from './catalogue-routes.ts';
import { claimRoutes } from './claim-routes.ts';
import { containmentRoutes } from './containment-routes.ts';
import { exportRoutes } from './export-routes.ts';
import { heldRoutes } from './held-routes.ts';
import { instrumentRoutes } from './instrument-routes.ts';
import { leaveRoutes } from './leave-routes.ts';
import { lifeRoutes } from './life-routes.ts';
import { logRoutes } from './log-routes.ts';
import { lotRoutes } from './lot-routes.ts';
import { orderRoutes } from './order-routes.ts';
import { proofRoutes } from './proof-routes.ts';
import { reachRoutes } from './reach-routes.ts';
import { recordRoutes } from './record-routes.ts';
import { stockRoutes } from './stock-routes.ts';
import { unitRoutes } from './unit-routes.ts';

export function allRoutes(app: App): Routes {
  return async (rest) => {
    await catalogueRoutes(app)(rest);
    await stockRoutes(app)(rest);
    await lotRoutes(app)(rest);
    await heldRoutes(app)(rest);
    await orderRoutes(app)(rest);
    await instrumentRoutes(app)(rest);
    await leaveRoutes(app)(rest);
    await unitRoutes(app)(rest);
    await reachRoutes(app)(rest);
    await containmentRoutes(app)(rest);
    await recordRoutes(app)(rest);
    await lifeRoutes(app)(rest);
    await claimRoutes(app)(rest);
    await attachmentRoutes(app)(rest);
    await bulkRoutes(app)(rest);
    await exportRoutes(app)(rest);
    await accessRoutes(app)(rest);
    await proofRoutes(app)(rest);
    rest.register(publicRoutes(logRoutes(app)));
  };
}
