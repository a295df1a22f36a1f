import { z } from 'zod';

/** Names of the settings that a schema allows at a path; empty where any name is. */
export function allowedAt(schema: z.ZodType, path: readonly (string | number)[]): string[] {
  const found = path.reduce<readonly z.ZodType[]>(
    (candidates, part) => candidates.flatMap((candidate) => children(candidate, part)),
    [schema],
  );
  return [...new Set(found.flatMap(keysOf))];
}

function children(schema: z.ZodType, part: string | number): readonly z.ZodType[] {
  const bare = unwrap(schema);
  if (bare instanceof z.ZodObject) {
    const child: unknown = bare.shape[String(part)];
    return child instanceof z.ZodType ? [child] : [];
  }
  if (bare instanceof z.ZodRecord && bare.valueType instanceof z.ZodType) return [bare.valueType];
  if (bare instanceof z.ZodArray && bare.element instanceof z.ZodType) return [bare.element];
  if (bare instanceof z.ZodUnion) return options(bare).flatMap((option) => children(option, part));
  return [];
}

function keysOf(schema: z.ZodType): readonly string[] {
  const bare = unwrap(schema);
  if (bare instanceof z.ZodObject) return Object.keys(bare.shape);
  if (bare instanceof z.ZodUnion) return options(bare).flatMap(keysOf);
  return [];
}

function options(union: z.ZodUnion): readonly z.ZodType[] {
  return union.options.filter((option): option is z.ZodType => option instanceof z.ZodType);
}

/** Defaults and optionals stand round the schema that has the names. */
function unwrap(schema: z.ZodType): z.ZodType {
  let bare = schema;
  while (
    bare instanceof z.ZodDefault ||
    bare instanceof z.ZodPrefault ||
    bare instanceof z.ZodOptional ||
    bare instanceof z.ZodNullable
  ) {
    const inner: unknown = bare.def.innerType;
    if (!(inner instanceof z.ZodType)) return bare;
    bare = inner;
  }
  return bare;
}
