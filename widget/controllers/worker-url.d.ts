/** The address of a script built as a worker. */
declare module '*?worker&url' {
  const url: string;
  export default url;
}
