/** The address of a script built as a worker. */
declare module '*?worker&url' {
  const url: string;
  export default url;
}

/** The address of a file that is put beside the scripts. */
declare module '*?url&no-inline' {
  const url: string;
  export default url;
}
