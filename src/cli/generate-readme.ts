/** Writes README's tables of rules and problem codes from the code; `--check` exits 1 where they aren't what the code says. */
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { allRules } from '../core/rules/all-rules.ts';
import { claimRules, decisionRules, evidenceRules } from '../core/rules/claim-rules.ts';
import { correctionRules } from '../core/rules/correction-rules.ts';
import { dispositionRules } from '../core/rules/disposition-rules.ts';
import { identityRules } from '../core/rules/identity-rules.ts';
import { judgementRules } from '../core/rules/judgement-rules.ts';
import { lifeRules } from '../core/rules/life-rules.ts';
import { problemCodes } from '../errors.ts';

const { values } = parseArgs({ options: { check: { type: 'boolean', default: false } } });
const file = fileURLToPath(new URL('../../README.md', import.meta.url));
const written = await readFile(file, 'utf8');
const described = withTable(withTable(written, 'rules', rulesTable()), 'codes', codesTable());

if (!values.check) await writeFile(file, described);
else if (written !== described) {
  console.error('README.md is stale: run node src/cli/generate-readme.ts and commit it');
  process.exitCode = 1;
}

function withTable(text: string, name: string, table: string): string {
  const between = new RegExp(`(<!-- ${name} -->\n)[\\s\\S]*?(<!-- /${name} -->)`);
  if (!between.test(text)) throw new Error(`README.md has no place for the table of ${name}`);
  return text.replace(between, (_, begin: string, end: string) => `${begin}${table}\n${end}`);
}

function rulesTable(): string {
  const ofClaims = [...claimRules, ...evidenceRules, ...decisionRules];
  const rules = [
    ...allRules,
    ...dispositionRules,
    ...correctionRules,
    ...identityRules,
    ...lifeRules,
    ...judgementRules,
    ...ofClaims,
  ];
  // What several kinds of record are held to is told once.
  const rows = rules
    .filter((rule, index) => rules.findIndex(({ id }) => id === rule.id) === index)
    .map(
      ({ id, severity, sentence, basis, clears }) =>
        `| \`${id}\` | ${severity} | ${sentence} | ${basis} | ${clears ?? ''} |`,
    );
  return ['| rule | | what it demands | why | cleared by |', '| --- | --- | --- | --- | --- |', ...rows].join('\n');
}

function codesTable(): string {
  const rows = Object.entries(problemCodes).map(
    ([code, { status, meaning }]) => `| \`${code}\` | ${status} | ${meaning} |`,
  );
  return ['| code | status | meaning |', '| --- | --- | --- |', ...rows].join('\n');
}
