/** Where a fact comes from. `published` names the source (title, section). */
export type Basis =
  | { readonly kind: 'published'; readonly source: string }
  | { readonly kind: 'common-practice' | 'shop-measured' | 'demo' };

export const basisKinds = ['published', 'common-practice', 'shop-measured', 'demo'] as const;
