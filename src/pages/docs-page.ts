/** The API reference: the OpenAPI description as one page without script, to read, search and print. */
import { schemaTable, shapeName } from './docs-schema.ts';
import { type Html, html, type Part } from './html.ts';
import { type Page, pageOf } from './page.ts';
import { type Json, listOf, objectOf, textOf } from './statement.ts';

const methods = ['get', 'put', 'post', 'delete', 'patch'];

type Operation = { readonly method: string; readonly path: string; readonly of: Json; readonly id: string };

/** `openapi` as `/openapi.json` serves it. */
export function docsPage(openapi: Json): Page {
  const info = objectOf(openapi['info']);
  const title = `${textOf(info['title']) ?? ''} ${textOf(info['version']) ?? ''}: API`;
  const components = objectOf(openapi['components']);
  const byTag = Map.groupBy(operationsOf(openapi), ({ of }) => firstTag(of));
  return pageOf('en', title, '/docs', [
    html`<h1>${title}</h1><p class="lead">${textOf(info['description'])}. The same as data: <a href="/openapi.json">/openapi.json</a>.</p>`,
    html`<p>Every request but those marked public carries <code>Authorization: Bearer …</code>, a token with the scopes that the operation lists.</p>`,
    html`<nav aria-label="Operations">${[...byTag].map(
      ([tag, operations]) =>
        html`<h3>${tag}</h3><ul>${operations.map(
          ({ id, method, path }) => html`<li><a href="#${id}"><span class="method">${method}</span> ${path}</a></li>`,
        )}</ul>`,
    )}</nav>`,
    [...byTag].map(([tag, operations]) => html`<section><h2>${tag}</h2>${operations.map(operation)}</section>`),
    html`<section><h2>Problems</h2>${responsesOf(components)}</section>`,
    html`<section><h2>Shapes</h2>${Object.entries(objectOf(components['schemas'])).map(
      ([name, schema]) =>
        html`<article id="${shapeName(name)}"><h3>${name}</h3>${schemaTable(objectOf(schema))}</article>`,
    )}</section>`,
  ]);
}

function operationsOf(openapi: Json): readonly Operation[] {
  return Object.entries(objectOf(openapi['paths'])).flatMap(([path, item]) =>
    methods.flatMap((method): Operation[] => {
      const of = objectOf(item)[method];
      const id = textOf(objectOf(of)['operationId']) ?? `${method} ${path}`;
      return of === undefined ? [] : [{ method: method.toUpperCase(), path, of: objectOf(of), id: `operation-${id}` }];
    }),
  );
}

function firstTag(of: Json): string {
  const tags = of['tags'];
  return (Array.isArray(tags) ? textOf(tags[0]) : null) ?? 'service';
}

function operation({ method, path, of, id }: Operation): Html {
  const body = objectOf(objectOf(objectOf(of['requestBody'])['content'])['application/json']);
  const schema = objectOf(body['schema']);
  return html`<article id="${id}"><h3><span class="method">${method}</span> <span class="id">${path}</span></h3>
<p><b>${textOf(of['summary'])}</b>${textOf(of['description']) !== null && [' · ', textOf(of['description'])]}</p>
<p class="small">${scopesOf(of)}</p>
${parametersOf(of)}
${Object.keys(schema).length > 0 && html`<details><summary>Body</summary>${schemaTable(schema)}</details>`}
${examplesOf(body)}
${answersOf(of)}</article>`;
}

function scopesOf(of: Json): Part {
  const alternatives = listOf(of['security'])
    .map((one) => one['bearer'])
    .filter(Array.isArray);
  if (alternatives.length === 0) return 'public';
  return [
    'Scopes: ',
    alternatives.map((all: unknown[], at) => [
      at > 0 && ' or ',
      all.map((scope, nth) => [nth > 0 && ' and ', html`<code>${String(scope)}</code>`]),
    ]),
  ];
}

function parametersOf(of: Json): Part {
  const parameters = listOf(of['parameters']);
  if (parameters.length === 0) return null;
  return html`<table class="wide"><thead><tr><th class="w25">Parameter</th><th class="w15">In</th><th>Meaning</th></tr></thead><tbody>${parameters.map(
    (
      one,
    ) => html`<tr><td><b class="id">${textOf(one['name'])}</b>${one['required'] === true && ' *'}</td><td data-label="In">${textOf(one['in'])}</td>
<td>${textOf(one['description']) ?? textOf(objectOf(one['schema'])['description'])} ${schemaTable({ ...objectOf(one['schema']), description: undefined })}</td></tr>`,
  )}</tbody></table>`;
}

function examplesOf(body: Json): Part {
  const several = Object.values(objectOf(body['examples'])).map((one) => objectOf(one)['value']);
  const examples = body['example'] === undefined ? several : [body['example'], ...several];
  return examples.map(
    (one) => html`<details><summary>Example</summary><pre>${JSON.stringify(one, null, 2)}</pre></details>`,
  );
}

function answersOf(of: Json): Part {
  const answers = Object.entries(objectOf(of['responses'])).filter(([status]) => status !== 'default');
  return answers.map(([status, answer]) => {
    const contents = Object.entries(objectOf(objectOf(answer)['content']));
    return html`<details><summary>${status}: ${textOf(objectOf(answer)['description'])}</summary>${contents.map(
      ([type, content]) => html`<p class="small">${type}</p>${schemaTable(objectOf(objectOf(content)['schema']))}`,
    )}</details>`;
  });
}

/** What every operation may answer besides: a text with a list, one line for every code. */
function responsesOf(components: Json): Part {
  return Object.values(objectOf(components['responses'])).map((response) => {
    const lines = (textOf(objectOf(response)['description']) ?? '').split('\n').filter((line) => line !== '');
    const items = lines.filter((line) => line.startsWith('- '));
    return html`<p>${lines.filter((line) => !line.startsWith('- '))}</p><ul>${items.map((item) => html`<li>${withCode(item.slice(2))}</li>`)}</ul>`;
  });
}

/** The backticks of the description's Markdown, and nothing else of it. */
function withCode(text: string): Part {
  return text.split('`').map((part, at) => (at % 2 === 1 ? html`<code>${part}</code>` : part));
}
