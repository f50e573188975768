/** What zod found, as problems with a pointer each. */
import type { z } from 'zod';
import { pointerOf } from '../../json/pointer.ts';
import { type Path, type Problem, problem } from '../problem.ts';

type Issue = z.core.$ZodIssue;
/** What zod says of a union whose schema has no words of its own. */
const untold = 'Invalid input';

export function shapeProblems(issues: readonly Issue[], base: Path = []): Problem[] {
  return issues.flatMap((issue) => {
    const path = [...base, ...issue.path];
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => problem([...path, key], 'there is no such field here: leave it out'));
    }
    if (issue.code === 'invalid_union' && issue.message === untold) return unionProblems(issue.errors, path);
    if (issue.code === 'invalid_key') return shapeProblems(issue.issues, path);
    return [problem(path, issue.message)];
  });
}

/** Of several shapes the one with the fewest problems was probably meant; where none fits at all, all are named. */
function unionProblems(shapes: readonly (readonly Issue[])[], path: Path): Problem[] {
  const told = shapes.map((issues) => shapeProblems(issues, path));
  const fewest = Math.min(...told.map((problems) => problems.length));
  const nearest = told.filter((problems) => problems.length === fewest);
  const here = pointerOf(path);
  const [first = []] = nearest;
  if (nearest.length === 1 || first.some((one) => one.pointer !== here)) return first;
  return [problem(path, [...new Set(nearest.flat().map((one) => one.detail))].join(', or '))];
}
