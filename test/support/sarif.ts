/** As much of SARIF 2.1.0 as the tests look at. */
export interface SarifResult {
  readonly ruleId: string;
  readonly ruleIndex: number;
  readonly kind?: string;
  readonly level: string;
  readonly message: { readonly text: string };
  readonly baselineState?: string;
  readonly locations: readonly {
    readonly physicalLocation: {
      readonly artifactLocation: { readonly uri: string };
      readonly region: { readonly startLine: number; readonly startColumn: number; readonly endLine?: number };
    };
  }[];
  readonly suppressions?: readonly {
    readonly kind: string;
    readonly status: string;
    readonly justification: string;
  }[];
  readonly partialFingerprints?: Readonly<Record<string, string>>;
  readonly fixes?: readonly {
    readonly description: { readonly text: string };
    readonly artifactChanges: readonly {
      readonly replacements: readonly {
        readonly deletedRegion: Readonly<Record<'startLine' | 'startColumn' | 'endLine' | 'endColumn', number>>;
        readonly insertedContent: { readonly text: string };
      }[];
    }[];
  }[];
}

export interface SarifLog {
  readonly runs: readonly [
    {
      readonly tool: {
        readonly driver: {
          readonly rules: readonly {
            readonly id: string;
            readonly shortDescription: { readonly text: string };
            readonly fullDescription: { readonly text: string };
            readonly help: { readonly text: string; readonly markdown: string };
          }[];
        };
      };
      readonly invocations: readonly [
        {
          readonly executionSuccessful: boolean;
          readonly exitCode: number;
          readonly toolExecutionNotifications: readonly { readonly message: { readonly text: string } }[];
        },
      ];
      readonly results: readonly SarifResult[];
    },
  ];
}
