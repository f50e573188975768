/** A trace as JSON, or as a page where one is wanted more. Names are those of the newest edition that its records name. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { App } from '../app/context.ts';
import { editionNamed } from '../app/read-edition.ts';
import type { TraceView } from '../app/read-trace.ts';
import { tracePage } from '../pages/trace-page.ts';
import { languagesWanted, unitsWanted, wantsPage } from './preferences.ts';
import { inUnits } from './routes/answers.ts';
import { sendPage } from './send-page.ts';

export async function sendTrace(
  app: App,
  request: FastifyRequest,
  reply: FastifyReply,
  trace: TraceView,
  maker: string,
): Promise<FastifyReply> {
  reply.header('vary', 'Accept, Accept-Language');
  const named = trace.records.findLast((one) => one.edition !== null)?.edition;
  if (!wantsPage(request) || named == null) return reply.send(inUnits(request, trace));
  const edition = await editionNamed(app, maker, named);
  return sendPage(
    reply,
    tracePage(trace, { edition, languages: languagesWanted(request), units: unitsWanted(request) }),
  );
}
