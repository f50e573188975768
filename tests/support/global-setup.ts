import { createServer } from 'node:http';
import type { TestProject } from 'vitest/node';
import { openTestServer, type TestServer } from './test-server.ts';

/**
 * One Postgres for the whole run, started when the first test file asks for it and stopped at the end. Test files run
 * in processes of their own, so they ask over HTTP on the loopback.
 */
export default async function globalSetup(project: TestProject): Promise<() => Promise<void>> {
  let server: Promise<TestServer> | null = null;
  const desk = createServer((_request, response) => {
    server ??= openTestServer();
    server.then(
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
    await (await server?.catch(() => null))?.close();
  };
}

declare module 'vitest' {
  interface ProvidedContext {
    testServerDesk: string;
  }
}
