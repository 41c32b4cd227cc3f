import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { inProject, readProject } from '../support/project.ts';

interface Manifest {
  readonly contributes: {
    readonly languages: readonly { readonly id: string; readonly configuration: string }[];
    readonly commands: readonly { readonly command: string; readonly title: string }[];
    readonly walkthroughs: readonly {
      readonly steps: readonly { readonly description: string; readonly media: { readonly markdown: string } }[];
    }[];
    readonly configuration: {
      readonly properties: Readonly<
        Record<
          string,
          { readonly default: unknown; readonly description?: string; readonly markdownDescription?: string }
        >
      >;
    };
  };
  readonly capabilities: {
    readonly untrustedWorkspaces: { readonly supported: unknown };
    readonly virtualWorkspaces: unknown;
  };
}

const manifest: Manifest = JSON.parse(readProject('package.json'));
const { languages, commands, walkthroughs, configuration } = manifest.contributes;
const client = readProject('client/src/start.ts');

describe('the extension', () => {
  test('has a walkthrough of at most five steps, whose pictures are words that ship', () => {
    const steps = walkthroughs.flatMap((each) => each.steps);
    expect(steps.length).toBeGreaterThan(0);
    expect(steps.length).toBeLessThanOrEqual(5);
    for (const { media } of steps) expect(existsSync(inProject(media.markdown))).toBe(true);
    expect(readProject('.vscodeignore')).toContain('!client/media/walkthrough/*.md');
  });

  test('opens samples that are there, by commands that the client registers', () => {
    const asked = [...JSON.stringify(walkthroughs).matchAll(/command:(waywarden\.\w+)\?([^)]*)\)/g)];
    expect(asked.length).toBeGreaterThan(0);
    for (const [, command = '', argument = ''] of asked) {
      expect(commands.map((each) => each.command)).toContain(command);
      expect(client).toContain(`'${command}'`);
      const name: unknown = JSON.parse(decodeURIComponent(argument));
      expect(existsSync(inProject(`samples/${String(name)}`))).toBe(true);
      expect(client).toContain(`'${String(name)}'`);
    }
  });

  test('has for every setting a default and one line that says what it does', () => {
    for (const [name, { default: value, description, markdownDescription }] of Object.entries(
      configuration.properties,
    )) {
      expect(value, name).toBeDefined();
      const line = description ?? markdownDescription ?? '';
      expect(line, name).toMatch(/\.$/);
      expect(line, name).not.toContain('\n');
    }
  });

  test('serves every language that it brings', () => {
    for (const { id } of languages) expect(client).toContain(`'${id}'`);
  });

  test('works in restricted mode and in virtual workspaces', () => {
    expect(manifest.capabilities.untrustedWorkspaces.supported).toBe(true);
    expect(manifest.capabilities.virtualWorkspaces).toBe(true);
  });
});
