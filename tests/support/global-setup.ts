import { createServer } from 'node:http';
import type { TestProject } from 'vitest/node';
import { openTestServer, type TestServer } from './test-server.ts';

/** Of all projects of this run, each of which reads this module for itself. */
declare global {
  var asfittedTests: { server: Promise<TestServer> | null; projects: number } | undefined;
}

/**
 * One Postgres for the whole run, started when the first test file asks for it and stopped with the last project. Test
 * files run in processes of their own, so they ask over HTTP on the loopback.
 */
export default async function globalSetup(project: TestProject): Promise<() => Promise<void>> {
  globalThis.asfittedTests ??= { server: null, projects: 0 };
  const run = globalThis.asfittedTests;
  run.projects += 1;
  const desk = createServer((_request, response) => {
    run.server ??= openTestServer();
    run.server.then(
      ({ urls }) => response.end(JSON.stringify(urls)),
      (error: unknown) => response.writeHead(500).end(error instanceof Error ? error.stack : String(error)),
    );
  });
  await new Promise<void>((resolve) => desk.listen(0, '127.0.0.1', resolve));
  const address = desk.address();
  if (address === null || typeof address === 'string') throw new Error('the desk has no port');
  project.provide('testServerDesk', `http://127.0.0.1:${address.port}`);
  return async () => {
    desk.closeAllConnections();
    await new Promise((resolve) => desk.close(resolve));
    run.projects -= 1;
    if (run.projects === 0) await (await run.server?.catch(() => null))?.close();
  };
}

declare module 'vitest' {
  interface ProvidedContext {
    testServerDesk: string;
  }
}
