import type { PlatenOrder } from 'peel-and-platen';
import type { EmitFn, HTMLAttributes, PublicProps } from 'vue';
import type { PlatenOrderEvents, PlatenOrderProps } from './props.js';

export * from 'peel-and-platen';

/** The tag as templates see it. The compiler of templates has to know `platen-order` as a custom element. */
export type PlatenOrderComponent = new () => PlatenOrder & {
  /** @deprecated read by the type checker of templates only */
  $props: HTMLAttributes & PlatenOrderProps & PublicProps;
  /** @deprecated read by the type checker of templates only */
  $emit: EmitFn<PlatenOrderEvents>;
};

declare module 'vue' {
  interface GlobalComponents {
    'platen-order': PlatenOrderComponent;
  }
}
