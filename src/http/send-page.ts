/** A page leaves with the policy that it was made for: it loads nothing, runs nothing, and is not kept. */
import type { FastifyReply } from 'fastify';
import type { Page } from '../pages/page.ts';

export function sendPage(reply: FastifyReply, { markup, lang, policy }: Page): FastifyReply {
  return reply
    .type('text/html; charset=utf-8')
    .headers({
      'content-language': lang,
      'content-security-policy': policy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cache-control': 'no-store',
    })
    .send(Buffer.from(markup));
}
