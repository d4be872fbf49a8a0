import type { TemplateResult } from 'lit';
import type { OrderStatus, QuoteAnswer } from '../../src/contract/index.ts';
import type { DraftLine, DraftPlacement } from '../draft/draft.ts';
import type { parseCounts } from '../draft/tables/read-counts.ts';
import type { Lazy } from '../lazy.ts';
import type { OrderController, OrderProgress } from '../shop/order-controller.ts';
import type { ShopProblem } from '../shop/shop-api.ts';
import type { PublicBlank, SlipContext } from './context.ts';

/** Parts of the slip that are loaded once the customer has begun, as the parts that are there at once call them. */
export type DeferredParts = {
  readonly placement: Lazy<{
    placementPart(
      ctx: SlipContext,
      line: DraftLine,
      blank: PublicBlank,
      placement: DraftPlacement,
    ): TemplateResult;
  }>;
  readonly names: Lazy<{
    namesRow(ctx: SlipContext, line: DraftLine): unknown;
    startNames(ctx: SlipContext, line: DraftLine): void;
  }>;
  readonly calendar: Lazy<{
    calendar(ctx: SlipContext, today: string, month: string, showMonth: (month: string) => void): unknown;
  }>;
  readonly ladder: Lazy<{ priceLadder(ctx: SlipContext, line: DraftLine): unknown }>;
  readonly reasons: Lazy<{ reasonsPart(ctx: SlipContext, quoted: QuoteAnswer): TemplateResult }>;
  readonly orderForm: Lazy<{
    orderForm(ctx: SlipContext, order: OrderProgress, controller: OrderController): TemplateResult;
    placeOrderButton(ctx: SlipContext, order: OrderProgress): TemplateResult;
    orderProblem(order: OrderProgress): ShopProblem | null;
  }>;
  readonly orderStatus: Lazy<{
    orderStatusPart(
      ctx: Pick<SlipContext, 'words' | 'format' | 'text'>,
      status: OrderStatus,
      address: string | null,
      startAgain: (() => void) | null,
    ): TemplateResult;
  }>;
  readonly readCounts: Lazy<{ readonly parseCounts: typeof parseCounts }>;
};
