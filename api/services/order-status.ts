import type { LateCode, LocalText, OrderState, OrderStatus } from '../../src/contract/index.ts';
import type { LateCause } from '../../src/promise/index.ts';
import type { CompiledCatalog } from '../../src/quote/index.ts';
import type { StoredOrder } from '../store/order-record.ts';

/** The states an order may go to, by its current state. */
export const NEXT_STATES: Readonly<Record<OrderState, readonly OrderState[]>> = {
  accepted: ['in-work', 'packed', 'cancelled'],
  'in-work': ['packed', 'cancelled'],
  packed: ['handed-over'],
  'handed-over': [],
  cancelled: [],
};

/** What a customer may see of an order. @param catalog the version it was quoted from */
export function orderStatus(order: StoredOrder, catalog: CompiledCatalog): OrderStatus {
  const { answer, slip } = order;
  return {
    number: order.number,
    state: order.state,
    placedAt: order.placedAt,
    promisedDay: order.promisedDay,
    ...(order.lateUntil === null && order.lateCause === null
      ? {}
      : {
          late: {
            until: order.lateUntil,
            because: order.lateCause === null ? null : lateCode(JSON.parse(order.lateCause) as LateCause),
          },
        }),
    pieces: order.pieces,
    currency: answer.currency,
    total: answer.total,
    fees: answer.fees,
    tax: answer.tax,
    lines: slip.lines.map((line, index) => {
      const quoted = answer.lines[index]!;
      const blank = catalog.blanks.get(line.blank);
      const methods = new Map(quoted.placements.map(({ method }) => [method.id, method.name]));
      return {
        id: line.id,
        blank: blank?.blank.name ?? line.blank,
        color: blank?.cloths.get(line.color)?.color.name ?? line.color,
        finish: catalog.finishes.get(line.finish)?.finish.name ?? line.finish,
        pieces: quoted.pieces,
        methods: [...methods.values()] as LocalText[],
        total: quoted.total,
      };
    }),
  };
}

/** A cause of delay as the customer sees it. */
function lateCode(cause: LateCause): LateCode {
  switch (cause.kind) {
    case 'down':
      return 'equipment';
    case 'spoiled':
      return 'remake';
    case 'late-step':
    case 'not-started':
      return 'work-before';
    case 'closed':
      return 'hours';
    case 'crew-short':
      return 'people';
  }
}
