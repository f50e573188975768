/** A JSON schema for people: what members there are, of what type, and what they mean. */
import { html, type Part } from './html.ts';
import { type Json, listOf, objectOf, textOf } from './statement.ts';

const prefix = '#/components/schemas/';
/** Deeper shapes are named ones, or are left to /openapi.json. */
const deepest = 4;

export function shapeName(name: string): string {
  return `shape-${name}`;
}

export function schemaTable(schema: Json, depth = 0): Part {
  const shape = memberShape(schema);
  const members = Object.entries(objectOf(shape['properties']));
  const required = Array.isArray(shape['required']) ? shape['required'] : [];
  const description = textOf(schema['description']);
  const line = html`<p class="small">${typeSaid(schema)}${description !== null && [' · ', description]}</p>`;
  if (members.length === 0 || depth >= deepest) return [line, alternatives(schema, depth)];
  return [
    line,
    html`<dl class="shape">${members.map(([name, member]) => {
      const of = objectOf(member);
      const inside = isOpen(of) ? schemaTable({ ...of, description: undefined }, depth + 1) : null;
      return html`<dt><span class="id">${name}</span>${required.includes(name) && ' *'}</dt><dd>${inside ?? typeSaid(of)}${
        textOf(of['description']) !== null && html` <span class="small">${textOf(of['description'])}</span>`
      }</dd>`;
    })}</dl>`,
  ];
}

/** Of a list, what its entries look like; of a shape with a description beside it, the shape. */
function memberShape(schema: Json): Json {
  return schema['type'] === 'array' ? objectOf(schema['items']) : schema;
}

/** Whether there is more to say of it than its type: it has members of its own, or forms. */
function isOpen(schema: Json): boolean {
  const shape = memberShape(schema);
  return shape['properties'] !== undefined || formsOf(shape).some((one) => one['properties'] !== undefined);
}

function formsOf(schema: Json): readonly Json[] {
  return [...listOf(schema['anyOf']), ...listOf(schema['oneOf'])];
}

function alternatives(schema: Json, depth: number): Part {
  const forms = formsOf(memberShape(schema)).filter((one) => one['properties'] !== undefined);
  if (forms.length === 0 || depth >= deepest) return null;
  return forms.map((form) => html`<div>${schemaTable(form, depth + 1)}</div>`);
}

function typeSaid(schema: Json): Part {
  const name = textOf(schema['$ref'])?.slice(prefix.length);
  if (name !== undefined) return html`<a href="#${shapeName(name)}">${name}</a>`;
  const all = listOf(schema['allOf']);
  if (all.length > 0) return all.map((one, at) => [at > 0 && ' and ', typeSaid(one)]);
  const forms = formsOf(schema);
  if (forms.length > 0) return forms.map((one, at) => [at > 0 && ' or ', typeSaid(one)]);
  if (Array.isArray(schema['enum']))
    return schema['enum'].map((one, at) => [at > 0 && ', ', html`<code>${String(one)}</code>`]);
  if (schema['const'] !== undefined) return html`<code>${String(schema['const'])}</code>`;
  if (schema['type'] === 'array') return ['list of ', typeSaid(objectOf(schema['items']))];
  const type = Array.isArray(schema['type']) ? schema['type'].join(' or ') : (textOf(schema['type']) ?? 'anything');
  return [type, limitsSaid(schema)];
}

const limits = ['format', 'minLength', 'maxLength', 'minimum', 'maximum', 'minItems', 'maxItems', 'pattern', 'default'];

function limitsSaid(schema: Json): Part {
  const said = limits.filter((one) => schema[one] !== undefined);
  return said.map((one) => html`, ${one} <code>${JSON.stringify(schema[one])}</code>`);
}
