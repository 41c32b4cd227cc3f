import { plain } from '../terminal.ts';

/**
 * Commands that the runner of a workflow reads from standard output: `::error file=a,line=1::message`. The runner looks at
 * every line, and old ones also at `##[`, so a plan's text must neither begin a line nor end a property.
 *
 * Line breaks, which the runner would take escaped, and terminal sequences become visible text first; then `%` is escaped,
 * and in properties `:` and `,`, too, as the runner's own library does.
 */
const data = (text: string): string =>
  plain(text)
    .replaceAll('%', '%25')
    // At the start of the message "::" or "##[" would be one more command for a reader that splits carelessly.
    .replaceAll('##[', '# #[')
    .replaceAll('::', ': :');

const property = (text: string): string =>
  plain(text).replaceAll('%', '%25').replaceAll(':', '%3A').replaceAll(',', '%2C').replaceAll('##[', '# #[');

/** One command on one line, without the line break. Properties that are undefined are left out. */
export const workflowCommand = (
  name: 'error' | 'warning' | 'notice',
  properties: Readonly<Record<string, string | number | undefined>>,
  message: string,
): string => {
  const said = Object.entries(properties).flatMap(([key, value]) =>
    value === undefined ? [] : [`${key}=${property(String(value))}`],
  );
  return `::${name}${said.length === 0 ? '' : ' '}${said.join(',')}::${data(message)}`;
};
