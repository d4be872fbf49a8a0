export * from './blank.ts';
export * from './catalog.ts';
export { type CheckedCatalog, checkCatalog } from './check.ts';
export { type CompiledCatalog, compileCatalog } from './compile.ts';
export * from './method.ts';
export { PublicCatalog, publicView } from './public-view.ts';
export * from './shop.ts';
export { shopSpecOf } from './shop-spec.ts';
