/** The function with its answers kept: for what is asked of every line of a drawing, a layer's name say. */
export function remembering<Answer>(ask: (text: string) => Answer): (text: string) => Answer {
  const answers = new Map<string, { readonly answer: Answer }>();
  return (text) => {
    const known = answers.get(text);
    if (known !== undefined) return known.answer;
    const answer = ask(text);
    answers.set(text, { answer });
    return answer;
  };
}
