/** The composition root: what is made once, in the order in which it is needed, and how it is closed. */
import { randomBytes } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import { v7 } from 'uuid';
import { containWhatCame } from './app/containing/contain.ts';
import type { App } from './app/context.ts';
import { keepEditions } from './app/editions.ts';
import type { Effects } from './app/effects.ts';
import { inBatches } from './app/in-batches.ts';
import { inTurn, together } from './app/in-turn.ts';
import { localAudience, localIssuer, localPublicKey } from './app/issue-token.ts';
import { organisationResolver } from './app/organisations.ts';
import { recordAll, recordingBatches, tooMany } from './app/recording/record-all.ts';
import type { Config } from './config.ts';
import type { Database } from './database.ts';
import { answersOf } from './graphql/answers.ts';
import { type GraphqlOptions, graphqlRoutes } from './graphql/graphql-routes.ts';
import { askerOf, type Routes, withScope } from './http/access.ts';
import { issuerVerification, localVerification, makeAuthenticate, type Verification } from './http/authenticate.ts';
import { logFault, toProblem } from './http/problems.ts';
import { journalled } from './http/routes/access-routes.ts';
import { allRoutes } from './http/routes/all-routes.ts';
import { buildServer } from './http/server.ts';
import { allJobs } from './jobs/all-jobs.ts';
import { repeat } from './jobs/repeat.ts';
import { attachmentFiles } from './store/attachment-files.ts';
import { type LogKeys, loadLogKeys, type Signer } from './store/local-keys.ts';
import { logFiles } from './store/log-files.ts';
import { closePools, openPools, type Pools } from './store/pools.ts';
import { openPrismaFacade } from './store/prisma-facade.ts';
import { checkRuntimeRole } from './store/runtime-role.ts';

export type Service = {
  readonly server: FastifyInstance;
  /** Answers what is on its way, then lets go of the database. */
  readonly close: () => Promise<void>;
};

/** Takes the database over: it is stopped with the service, or where the service can't be made. */
export async function wire(config: Config, logger: Logger, database: Database): Promise<Service> {
  try {
    const pools = openPools({
      serviceUrl: database.serviceUrl,
      onLost: (pool, error) => logger.warn({ err: error, pool }, 'an idle connection was lost'),
    });
    await checkRuntimeRole(pools.recording);
    const { dataDir, log } = config;
    const keys = await loadLogKeys({ files: config.signingKeyFiles, dataDir, ...log });
    const app = appOf(pools, keys, { dataDir, logDir: log.directory });
    const ping = async () => await pools.reading.query('select 1');
    const server = buildServer({
      logger,
      trustProxy: config.trustProxy,
      authenticate: makeAuthenticate(await verification(config, logger), organisationResolver(pools)),
      checks: { ready: { database: ping }, started: { database: ping } },
      publicKeys: keys,
      routes: everyRoute(app, config.graphql),
    });
    const jobs = allJobs(app).map((job) => repeat(job, logger));
    return {
      server,
      close: async () => {
        await server.close();
        await Promise.all(jobs.map((end) => end()));
        await closePools(pools);
        await database.stop();
      },
    };
  } catch (error) {
    await database.stop();
    throw error;
  }
}

/** REST, and GraphQL behind the same shell. */
export function everyRoute(app: App, graphql: GraphqlOptions): Routes {
  return async (rest) => {
    await journalled(app)(rest);
    await allRoutes(app)(rest);
    rest.register(
      withScope(
        ['report:read', 'record:read', 'warranty:read'],
        graphqlRoutes(answersOf(app), graphql, { askerOf, toProblem, logFault }),
      ),
    );
  };
}

export function appOf(pools: Pools, { signers, former }: LogKeys, dirs: { dataDir: string; logDir: string }): App {
  const app: App = {
    pools,
    models: openPrismaFacade(),
    editions: keepEditions(),
    effects: effectsOf(signers[0]),
    attachments: attachmentFiles(dirs.dataDir),
    log: { files: logFiles(dirs.logDir), signers, keys: [...signers, ...former] },
    running: new Set(),
    record: inBatches(recordingBatches, (requests) => recordAll({ ...app, pool: pools.recording }, requests), tooMany),
    afterwards: inTurn(),
    contain: together((came) => containWhatCame(app, came)),
  };
  return app;
}

function effectsOf(signer: Signer): Effects {
  return {
    newId: () => v7(),
    randomBytes: (count) => randomBytes(count),
    signingKey: `${signer.name}+${signer.keyId}`,
    sign: (text) => Buffer.from(signer.sign(Buffer.from(text))).toString('base64'),
  };
}

async function verification(config: Config, logger: Logger): Promise<Verification> {
  if (config.auth !== null) return issuerVerification(config.auth);
  logger.warn('tokens are signed by a local key in DATA_DIR: for the loopback only');
  return localVerification({
    issuer: localIssuer,
    audience: localAudience,
    publicKey: await localPublicKey(config.dataDir),
  });
}
