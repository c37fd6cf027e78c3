export interface CountBody {
  readonly lot: string;
  readonly jars: number;
  readonly countedAt: string;
  readonly by: string;
}
