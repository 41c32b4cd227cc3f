/** What is wrong with a message by the house's style, or nothing. */
export const styleFaults = (message: string): readonly string[] => {
  const faults: string[] = [];
  const bare = message.replace(/"[^"]*"/g, '""');
  if (/^[A-Z](?![A-Z])/.test(message)) faults.push('starts with a capital');
  if (/[.!]$/.test(message)) faults.push('ends with a full stop');
  if (/\b(safe|legal|clear(ed)?)\b/i.test(bare)) faults.push('calls a flight safe, legal or clear');
  if (/undefined|NaN|null|\[object|Infinity/.test(message)) faults.push('shows a value of the program');
  if (/\n/.test(message)) faults.push('has a line break');
  return faults;
};
