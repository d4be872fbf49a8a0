/** Allow lists for SVG. Everything else is dropped, so that no new danger is missed. */

const words = (text: string): ReadonlySet<string> => new Set(text.trim().split(/\s+/));

/** Elements that draw or contain drawings (SVG 1.1 and 2). */
export const ALLOWED_ELEMENTS = words(`
  svg g a defs symbol use switch
  path rect circle ellipse line polyline polygon text tspan textPath image
  linearGradient radialGradient stop pattern clipPath mask marker filter style
  feBlend feColorMatrix feComponentTransfer feFuncR feFuncG feFuncB feFuncA feComposite feConvolveMatrix
  feDiffuseLighting feDisplacementMap feDistantLight feDropShadow feFlood feGaussianBlur feImage feMerge feMergeNode
  feMorphology feOffset fePointLight feSpecularLighting feSpotLight feTile feTurbulence
`);

/** Elements that run or animate; the customer is told that they were dropped. */
export const ACTIVE_ELEMENTS = words(`
  script foreignObject iframe object embed handler listener
  animate animateColor animateMotion animateTransform set discard audio video canvas
`);

/** Properties allowed in CSS and as attributes; their values are parsed as CSS. */
export const ALLOWED_PROPERTIES = words(`
  alignment-baseline baseline-shift clip-path clip-rule color color-interpolation color-interpolation-filters
  cx cy direction display dominant-baseline enable-background fill fill-opacity fill-rule filter flood-color
  flood-opacity font font-family font-size font-size-adjust font-stretch font-style font-variant font-weight
  glyph-orientation-horizontal glyph-orientation-vertical height image-rendering isolation kerning letter-spacing
  lighting-color line-height marker marker-end marker-mid marker-start mask mask-type mix-blend-mode opacity overflow
  paint-order r rx ry shape-rendering stop-color stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap
  stroke-linejoin stroke-miterlimit stroke-opacity stroke-width text-anchor text-decoration text-rendering transform
  transform-box transform-origin unicode-bidi vector-effect visibility white-space width word-spacing writing-mode x y
`);

/** Attributes that are not CSS properties. None may contain a URL. */
export const ALLOWED_ATTRIBUTES = words(`
  id class version viewBox preserveAspectRatio x1 y1 x2 y2 points d pathLength dx dy rotate textLength lengthAdjust
  startOffset method spacing side fx fy fr gradientUnits gradientTransform spreadMethod offset patternUnits
  patternContentUnits patternTransform clipPathUnits maskUnits maskContentUnits markerUnits markerWidth markerHeight
  refX refY orient filterUnits primitiveUnits filterRes in in2 result stdDeviation mode type values tableValues slope
  intercept amplitude exponent operator k1 k2 k3 k4 order kernelMatrix divisor bias targetX targetY edgeMode
  kernelUnitLength preserveAlpha surfaceScale diffuseConstant specularConstant specularExponent limitingConeAngle
  pointsAtX pointsAtY pointsAtZ azimuth elevation z scale xChannelSelector yChannelSelector radius baseFrequency
  numOctaves seed stitchTiles systemLanguage requiredFeatures requiredExtensions xml:space xml:lang
`);

/** Elements whose `href` refers to another part of the drawing. */
export const LOCAL_HREF_ELEMENTS = words(`
  use textPath linearGradient radialGradient pattern filter feImage
`);

/** CSS functions allowed in values. */
export const ALLOWED_FUNCTIONS = words(`
  rgb rgba hsl hsla hwb lab lch oklab oklch color calc min max clamp
  matrix translate translatex translatey scale scalex scaley rotate skew skewx skewy
  blur brightness contrast drop-shadow grayscale hue-rotate invert opacity saturate sepia
`);
