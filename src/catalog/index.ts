export * from './blank.ts';
export * from './catalog.ts';
export * from './method.ts';
export * from './shop.ts';
