import { formatNote, type MessageFormat, type NameKind } from '../message-format.ts';
import type { LaterMessages } from '../messages.ts';
import type { WordedPosition } from '../stage-words.ts';

const surfaces: Readonly<Record<string, string>> = { flat: 'مسطّح', curved: 'منحنٍ', cylinder: 'أسطواني' };
const fibers: Readonly<Record<string, string>> = {
  cotton: 'القطن',
  polyester: 'البوليستر',
  linen: 'الكتان',
  viscose: 'الفسكوز',
  wool: 'الصوف',
  elastane: 'الإيلاستان',
};
const qualities: Readonly<Record<string, string>> = {
  hand: 'الملمس',
  gloss: 'اللمعان',
  washLife: 'تحمّل الغسيل',
  washLifeCycles: 'تحمّل الغسيل',
  breathability: 'نفاذ الهواء',
};
/** Keeps text of another script from reordering the sentence around it (Unicode isolates). */
const isolate = (text: string) => `\u2068${text}\u2069`;
const isolatedText = (say: MessageFormat, value: unknown) => isolate(say.text(value));
const isolatedName = (say: MessageFormat, kind: NameKind, id: unknown) => isolate(say.name(kind, id));
const pieces = {
  zero: 'لا قطع',
  one: 'قطعة واحدة',
  two: 'قطعتان',
  few: '# قطع',
  many: '# قطعة',
  other: '# قطعة',
} as const;
const washes = {
  zero: 'بلا غسلات',
  one: 'غسلة واحدة',
  two: 'غسلتين',
  few: '# غسلات',
  many: '# غسلة',
  other: '# غسلة',
} as const;
const across = (say: MessageFormat, xMm: number) =>
  Math.abs(xMm) < 0.005 ? 'على خط الوسط' : `${say.len(Math.abs(xMm))} إلى ${xMm > 0 ? 'يمين' : 'يسار'} الوسط`;
const place = (say: MessageFormat, p: WordedPosition) =>
  `${across(say, p.xMm)}، ${say.len(p.yMm)} من الأعلى${
    p.angleDeg === 0 ? '' : `، بزاوية ${say.angle(p.angleDeg)}`
  }`;
/** After a word that governs it: only the dual differs. */
const ofPieces = { ...pieces, two: 'قطعتين' } as const;

/** Arabic: what the slip says once the customer has begun. */
export const messages: LaterMessages = {
  details: {
    remove: 'أزل',
    adjust: 'اضبط',
    apply: 'طبّق',
    width: 'العرض',
    'from-center': 'من الوسط',
    'from-top': 'من الأعلى',
    angle: 'الزاوية',
    'angle-range': (_p, s) => `من ${isolate(s.angle(-360))} إلى ${isolate(s.angle(360))}`,
    'length-range': (p, s) => `من ${s.text(p.leastText)} إلى ${s.text(p.mostText)}`,
    'usual-positions': 'الأماكن المعتادة',
    'duplicate-to': (p, s) => `انسخه إلى ${isolatedText(s, p.name)}`,
    'also-on': 'انسخه إلى',
    checking: 'يُفحص التصميم الآن…',
    'no-findings': 'فُحص التصميم: لا شيء يحتاج إلى إصلاح',
    noticed: (p, s) =>
      s.plural(p.count, {
        zero: 'لا ملاحظات',
        one: 'ملاحظة واحدة',
        two: 'ملاحظتان',
        few: '# ملاحظات',
        many: '# ملاحظة',
        other: '# ملاحظة',
      }),
    'severity-note': 'للعلم',
    'severity-warning': 'يُرجى التحقق',
    'severity-stops': (p, s) => `لا يصلح مع ${isolate(s.names('method', p.methods, 'or'))}`,
    before: 'قبل',
    after: 'بعد',
    mended: 'أُصلح',
    'take-back': 'تراجع عن الإصلاح',
    'names-list': 'اسم واحد في كل صف مع مقاسه',
    'names-file': 'خذ القائمة من ملف',
    'names-too-long': (p, s) => `الصف ${s.n(p.row)}: الاسم ${s.n(40)} حرفًا على الأكثر`,
    'names-too-many': (p, s) => `الصف ${s.n(p.row)}: القائمة ${s.n(2000)} صف على الأكثر`,
    'names-unknown-size': (p, s) => `الصف ${s.n(p.row)}: لا يوجد مقاس ${isolatedText(s, p.text)}`,
    'rows-refused': (p, s) =>
      s.plural(p.count, {
        zero: 'لا صفوف أخرى',
        one: 'صف آخر فيه خطأ',
        two: 'صفان آخران فيهما خطأ',
        few: '# صفوف أخرى فيها أخطاء',
        many: '# صفًا آخر فيه خطأ',
        other: '# صف آخر فيه خطأ',
      }),
    'names-no-name': (p, s) => `الصف ${s.n(p.row)}: لا يوجد اسم`,
    'names-count': (p, s) =>
      s.plural(p.count, {
        zero: 'لا أسماء',
        one: 'اسم واحد',
        two: 'اسمان',
        few: '# أسماء',
        many: '# اسمًا',
        other: '# اسم',
      }),
    'names-off': (p, s) =>
      `${s.text(p.size)}: ${s.plural(p.names, { zero: 'لا أسماء', one: 'اسم واحد', two: 'اسمان', few: '# أسماء', many: '# اسمًا', other: '# اسم' })} مقابل ${s.plural(p.pieces, { zero: 'لا قطع', one: 'قطعة واحدة', two: 'قطعتين', few: '# قطع', many: '# قطعة', other: '# قطعة' })}`,
    'names-set-pieces': (p, s) =>
      s.plural(p.count, {
        zero: 'دون قطع',
        one: 'اجعلها قطعة واحدة كما في القائمة',
        two: 'اجعلها قطعتين كما في القائمة',
        few: 'اجعلها # قطع كما في القائمة',
        many: 'اجعلها # قطعة كما في القائمة',
        other: 'اجعلها # قطعة كما في القائمة',
      }),
    'names-file-large': (p, s) => `الملف أكبر من ${s.bytes(p.bytes)}`,
    widest: 'أقصى عرض',
    'name-shown': (p, s) => `على الرسم: ${s.text(p.name)} (${s.n(p.number)} من ${s.n(p.count)})`,
    'name-next': 'أظهر الاسم التالي',
    font: 'الخط',
    'cap-height': 'ارتفاع الحروف الكبيرة',
    tax: (p, s) => `ضريبة ${s.percent(p.rate)}`,
    'tax-included': (p, s) => `ضريبة ${s.percent(p.rate)}، مشمولة`,
    sum: 'كيف تكوّن الإجمالي',
    'every-count': 'ما الذي يغيّره كل عدد',
    'count-at-price': (p, s) =>
      `${s.plural(p.count, pieces)}: ${s.money(p.unit)} للقطعة، ${s.money(p.total)} إجمالًا`,
    because: 'سبب هذا الاختيار',
    instead: 'ماذا يمكنك أيضًا',
    'change-finish': (p, s) => `التشطيب: ${isolatedName(s, 'finish', p.finish)}`,
    'change-method': (p, s) => `الطباعة بطريقة ${isolatedName(s, 'method', p.method)}`,
    'change-count': (p, s) => s.plural(p.count, pieces),
    'change-rush': (p) => (p.rush === false ? 'بلا استعجال' : 'باستعجال'),
    'change-needed-by': (p, s) => (p.neededBy ? `مطلوب بحلول ${s.day(p.neededBy)}` : 'بلا موعد'),
    'now-ready': 'جاهز الآن بحلول',
    'earliest-day': (p, s) => `أقرب يوم هو ${s.day(p.day)}`,
    'month-before': 'الشهر السابق',
    'month-after': 'الشهر التالي',
    'price-holds': (p, s) => `السعر واليوم ساريان حتى ${isolatedText(s, p.until)}`,
    'your-order': 'طلبك',
    'back-to-slip': 'عودة إلى الورقة',
    name: 'الاسم',
    email: 'البريد الإلكتروني',
    phone: 'الهاتف',
    note: 'ملاحظة للورشة',
    optional: 'إن شئت',
    'fault-name': 'اكتب اسمك.',
    'fault-email': `اكتب عنوان بريد إلكتروني، مثل ${isolate('ada@quill.example')}.`,
    'fault-approve': 'اطّلع على المعاينة ثم ضع علامة هنا.',
    proof: 'المعاينة',
    'proof-of': (p, s) => `معاينة ${isolatedText(s, p.name)}`,
    'proof-name': (p, s) => `تظهر هنا بـ«${isolatedText(s, p.text)}»؛ ولكل قطعة اسمها أو رقمها.`,
    'proof-coming': 'تُرسم المعاينة الآن',
    approve: 'اطّلعت على المعاينة: اطبعوها هكذا',
    'place-order': (p, s) => (p.total ? `اطلب مقابل ${s.money(p.total)}` : 'اطلب'),
    ordering: 'يجري تقديم طلبك',
    'order-placed': 'شكرًا لك. وصل طلبك إلى الورشة.',
    state: 'الحالة',
    'new-slip': 'ابدأ ورقة جديدة',
  },
  reasons: {
    'surface-unfit': (p, s) =>
      `هذا الموضع ${s.word(surfaces, p.surface)}، ولا تصلح الطباعة إلا على سطح ${s.anyOf(surfaces, p.allowed)}.`,
    'off-the-face': (p, s) =>
      `الطبعة، ${s.size(p.widthMm, p.heightMm)}، تتجاوز مساحة الطباعة ${s.size(p.areaWidthMm, p.areaHeightMm)} على المقاس ${isolatedName(s, 'size', p.size)}.`,
    'in-keep-out': (p, s) => `تمسّ الطبعة ${isolatedName(s, 'keep-out', p.keepOut)} حيث لا يمكن الطباعة.`,
    'too-large-for-bed': (p, s) =>
      `الطبعة، ${s.size(p.widthMm, p.heightMm)}، لا تسعها طاولة مقاسها ${s.size(p.bedWidthMm, p.bedHeightMm)}.`,
    'too-large-for-sheet': (p, s) =>
      `الطبعة، ${s.size(p.widthMm, p.heightMm)}، لا تسعها ورقة مقاسها ${s.size(p.sheetWidthMm, p.sheetHeightMm)}.`,
    'fiber-unfit': (p, s) =>
      `يلزم ${s.percent(p.leastShare)} على الأقل من ${s.anyOf(fibers, p.fibers)}، وفي هذا القماش ${s.percent(p.share)}.`,
    'cloth-too-light': 'القماش أفتح مما يصلح لذلك.',
    'cloth-too-dark': 'القماش أغمق مما يصلح لذلك.',
    'line-too-thin': (p, s) =>
      `سيكون أدق خط ${s.fine(p.lineMm)}، والخطوط تثبت ابتداءً من ${s.fine(p.leastMm)}.`,
    'gap-too-thin': (p, s) =>
      `ستكون أضيق فجوة ${s.fine(p.gapMm)}، والفجوات تبقى مفتوحة ابتداءً من ${s.fine(p.leastMm)}.`,
    'too-few-pixels': (p, s) =>
      `بهذا الحجم في الصورة ${s.n(p.dpi)} نقطة في البوصة، ويلزم ${s.n(p.leastDpi)}.`,
    'soft-alpha-lost': (p, s) => `${s.percent(p.share)} من الحبر شبه شفاف، كما في الظلال والتدرّج، وسيُفقد.`,
    'too-few-pieces': (p, s) => `يبدأ ذلك من ${s.plural(p.least, ofPieces)}، والعدد ${s.n(p.pieces)}.`,
    'too-many-pieces': (p, s) => `يُعمل ذلك حتى ${s.plural(p.most, ofPieces)}، والعدد ${s.n(p.pieces)}.`,
    'hand-too-thick': 'سيُحسّ به أكثر مما يطلبه التشطيب.',
    'gloss-out-of-bounds': 'لمعانه ليس كما يطلبه التشطيب.',
    'wash-life-too-short': (p, s) => `يتحمّل ${s.plural(p.washLife, washes)}، والتشطيب يطلب ${s.n(p.least)}.`,
    'breathability-too-low': 'ينفذ الهواء منه أقل مما يطلبه التشطيب.',
    'not-together-on-a-piece': (p, s) =>
      `لا يجتمع على القطعة نفسها مع ${isolatedName(s, 'method', p.other)}.`,
    'no-station': 'لا مكبس ولا طابعة في الورشة تسع هذا.',
    'nothing-to-print': 'لا حبر في هذا التصميم.',
    'method-not-asked': (p, s) => `طلبتَ ${isolatedName(s, 'method', p.asked)}.`,
    'no-placement': 'لا شيء للطباعة بعد: أضف تصميمًا أو أسماء.',
    'no-method-fits': 'لا طريقة لدى الورشة لطباعة هذا كما هو.',
    'needed-by-too-early': (p, s) =>
      `لا يمكن الوفاء بيوم ${s.day(p.neededBy)}. أقرب يوم هو ${s.day(p.earliest)}.`,
    'plan-full': (p, s) =>
      s.plural(p.horizonDays, {
        zero: 'الورشة محجوزة.',
        one: 'الورشة محجوزة ليوم.',
        two: 'الورشة محجوزة ليومين.',
        few: 'الورشة محجوزة لمدة # أيام.',
        many: 'الورشة محجوزة لمدة # يومًا.',
        other: 'الورشة محجوزة لمدة # يوم.',
      }),
    'only-fit': (p, s) => `${isolatedName(s, 'method', p.method)} هي الطريقة الوحيدة الصالحة.`,
    'best-margin-rate': (p, s) =>
      `تسير الورشة مع ${isolatedName(s, 'method', p.method)} أفضل مما تسير مع ${isolatedName(s, 'method', p.other)}.`,
    'lowest-price': (p, s) =>
      `${isolatedName(s, 'method', p.method)} أقل من ${isolatedName(s, 'method', p.other)} بمقدار ${s.money(p.difference)}.`,
    'earliest-day': (p, s) =>
      `مع ${isolatedName(s, 'method', p.method)} يجهز ${s.day(p.day)}، ومع ${isolatedName(s, 'method', p.other)} ${s.day(p.otherDay)}.`,
    'equal-so-listed-first': (p, s) =>
      `تتساوى ${isolatedName(s, 'method', p.method)} و${isolatedName(s, 'method', p.other)}، والورشة تفضّل الأولى.`,
    'finish-asks': (p, s) =>
      `حسم ذلك التشطيب ${isolatedName(s, 'finish', p.finish)}: ${s.word(qualities, p.quality)}.`,
    'keeps-needed-by': (p, s) =>
      `${isolatedName(s, 'method', p.method)} تفي بيوم ${s.day(p.neededBy)}، ومع ${isolatedName(s, 'method', p.other)} يجهز ${s.day(p.otherDay)}.`,
    'underbase-needed': (p, s) => `على ${isolatedName(s, 'color', p.color)} توضع طبقة بيضاء تحت الألوان.`,
    'treatment-added': (p, s) =>
      `يُضاف ${isolatedName(s, 'treatment', p.treatment)} من أجل التشطيب ${isolatedName(s, 'finish', p.finish)}.`,
    'many-alike': (p, s) =>
      `${s.plural(p.pieces, { ...pieces, two: 'قطعتان متماثلتان', few: '# قطع متماثلة', many: '# قطعة متماثلة', other: '# قطعة متماثلة' })}: تجهيز واحد يكفيها كلها.`,
    'each-different': (p, s) => `${s.plural(p.pieces, pieces)}، كل واحدة مختلفة: لكل قطعة طبعة خاصة بها.`,
    'bound-reached': (p, s) =>
      `كانت الاحتمالات أكثر من أن تُجرّب كلها، وهذا لا يبعد عن الأفضل أكثر من ${s.percent(p.gap)}.`,
    'next-count-cheaper': (p, s) =>
      `ابتداءً من ${s.plural(p.count, ofPieces)} يكون سعر القطعة ${s.money(p.unit)}.`,
    'count-capped': (p, s) => `لا تدفع أكثر من سعر ${s.plural(p.count, ofPieces)}: ${s.money(p.total)}.`,
    'floor-applied': 'هذا أقل ما تستطيع الورشة صنعه به.',
    'set-up-fee': 'يُدفع التجهيز مرة واحدة.',
    'rush-fee': 'اليوم الأبكر له رسم إضافي.',
    'size-surcharge': 'بعض المقاسات أغلى.',
    'after-cutoff': (p, s) => `الطلبات بعد الساعة ${isolate(s.time(p.cutoff))} تُحسب ليوم العمل التالي.`,
    'move-onto-face': 'انقله إلى داخل المساحة القابلة للطباعة.',
    'make-smaller': (p, s) => `اجعل عرضه ${s.len(p.widthMm)} أو أقل.`,
    'use-other-face': (p, s) => `ضعه على ${isolatedName(s, 'face', p.face)}.`,
    'use-other-finish': (p, s) => `اختر التشطيب ${isolatedName(s, 'finish', p.finish)}.`,
    'use-other-blank': (p, s) => `اختر قطعة أخرى: ${isolatedName(s, 'blank', p.blank)}.`,
    'thicken-lines': (p, s) => `اجعل سُمك الخطوط ${s.fine(p.toMm)}.`,
    'widen-gaps': (p, s) => `وسّع الفراغات إلى ${s.fine(p.toMm)}.`,
    'larger-letters': (p, s) => `اجعل ارتفاع الحروف ${s.len(p.capHeightMm)} واسمح بعرض ${s.len(p.widthMm)}.`,
    'use-other-color': (p, s) => `اختر اللون ${isolatedName(s, 'color', p.color)}.`,
    'fewer-pieces': (p, s) => `خذ ${s.plural(p.pieces, ofPieces)} أو أقل.`,
    'more-pieces': (p, s) => `خذ ${s.plural(p.pieces, ofPieces)} أو أكثر.`,
    'firm-up-soft-alpha': 'اجعل الأجزاء شبه الشفافة معتمة.',
    'sharper-file': (p, s) => `أرسل ملفًا عرضه ${s.n(p.widthPx)} بكسل على الأقل.`,
    'choose-later-day': (p, s) => `اختر ${s.day(p.day)} أو بعده.`,
    'pay-rush': (p, s) => `بالاستعجال، مقابل ${s.money(p.fee)}، يجهز ${s.day(p.day)}.`,
    'rush-brings-nothing-earlier': (p, s) => `الاستعجال لا يجعله أبكر من ${s.day(p.day)}.`,
    'method-flips-below': (p, s) =>
      `حتى ${s.plural(p.count, ofPieces)} تكون الطريقة ${isolatedName(s, 'method', p.method)}.`,
    'method-flips-at': (p, s) =>
      `ابتداءً من ${s.plural(p.count, ofPieces)} تصبح الطريقة ${isolatedName(s, 'method', p.method)}.`,
  },
  findings: {
    'nothing-to-print': 'الصورة فارغة: لا شيء فيها للطباعة.',
    'too-few-pixels': (p, s) =>
      `بعرض ${s.len(p.widthMm)} في الصورة ${s.n(p.dpi)} نقطة في البوصة وستبدو غير حادة. تكون حادة حتى ${s.len(p.goodWidthMm)}، أو بملف عرضه ${s.n(p.neededWidthPx)} بكسل.`,
    'thin-lines': (p, s) =>
      `قد تنقطع خطوط دقيقة مثل ${s.fine(p.lineMm)}. تثبت الخطوط ابتداءً من ${s.fine(p.leastMm)}، وتبلغ ذلك بعرض ${s.len(p.goodWidthMm)}.`,
    'thin-gaps': (p, s) =>
      `قد يملأ الحبر فجوات ضيقة مثل ${s.fine(p.gapMm)}. تبقى مفتوحة ابتداءً من ${s.fine(p.leastMm)}، وتبلغ ذلك بعرض ${s.len(p.goodWidthMm)}.`,
    'soft-alpha': (p, s) =>
      `${s.percent(p.share)} من الحبر شبه شفاف، كما في الظلال والتدرّج. يُطبع معتمًا أو لا يُطبع.`,
    'background-box': (p, s) => `الرسم داخل مربع لونه ${isolatedText(s, p.hex)}، والمربع يُطبع أيضًا.`,
    vanishes: (p, s) => `${s.percent(p.share)} من الحبر قريب من لون القماش فلا يُرى.`,
    'light-rim': 'بقيت حافة فاتحة حول الرسم، كأنه قُصّ من خلفية بيضاء.',
    'out-of-gamut': (p, s) => `بعض الألوان لا يبلغها الحبر وستبدو أهدأ: ${isolate(s.list(p.colors))}.`,
    'large-solid': (p, s) =>
      `مساحة مصمتة قطرها ${s.len(p.diameterMm)} لا تُنفذ الهواء، وتكون أريح إذا صارت نقاطًا دقيقة.`,
    'mostly-empty': (p, s) =>
      `يملأ الحبر ${s.percent(p.share)} من الصورة. يوضع التصميم بحسب حبره لا بحسب الورقة الفارغة.`,
    'extreme-shape': (p, s) => `طول التصميم ${s.n(p.ratio)} ضعف ارتفاعه أو عرضه. تحقق من حجمه.`,
    'source-note': (p, s) => formatNote(messages.notes, p, s),
  },
  remedies: {
    'remove-background': 'أزل الخلفية',
    trim: 'قص الحواف الفارغة',
    'firm-up': 'اجعل الأجزاء شبه الشفافة معتمة',
    'screen-soft': 'حوّل الأجزاء شبه الشفافة إلى نقاط دقيقة',
    thicken: 'اجعل الخطوط الدقيقة أسمك',
    outline: 'ضع حدًّا حوله',
    'screen-solids': 'حوّل المساحات الكبيرة إلى نقاط دقيقة',
    recolor: 'اطبعه بلون آخر',
  },
  notes: {
    'turned-by-metadata': 'كانت الصورة محفوظة مُدارة، وهي تُعرض معتدلة.',
    'cmyk-converted': 'في الملف ألوان طباعة (CMYK)، وقد حُوّلت وقد تبدو مختلفة قليلًا.',
    'wide-gamut-converted': 'في الملف ألوان أكثر مما في الشاشة، وقد ضُبطت.',
    'sixteen-bit-reduced': 'في الملف درجات أدق مما يُطبع، وقد خُفّضت.',
    'first-frame-only': (p, s) =>
      `الملف متحرك، وتُطبع الصورة الأولى من ${s.plural(p.frames, { zero: 'لا صور', one: 'صورة واحدة', two: 'صورتين', few: '# صور', many: '# صورة', other: '# صورة' })}.`,
    'first-page-only': (p, s) =>
      `تُطبع الصفحة الأولى من ${s.plural(p.pages, { zero: 'لا صفحات', one: 'صفحة واحدة', two: 'صفحتين', few: '# صفحات', many: '# صفحة', other: '# صفحة' })}.`,
    'missing-font': (p, s) =>
      `ليس لدى الورشة الخط ${isolate(s.list(p.fonts))}، وحلّ محله خط آخر. أرسل الكتابة كحدود لتبقى كما هي.`,
    'no-size-in-file': 'لا يذكر الملف حجمه، فاذكر العرض الذي تريده.',
    'external-reference-dropped': (p, s) =>
      s.plural(p.count, {
        zero: 'لا تنقص صورة.',
        one: 'تنقص صورة يشير إليها الملف فقط.',
        two: 'تنقص صورتان يشير إليهما الملف فقط.',
        few: 'تنقص # صور يشير إليها الملف فقط.',
        many: 'تنقص # صورة يشير إليها الملف فقط.',
        other: 'تنقص # صورة يشير إليها الملف فقط.',
      }),
    'active-content-dropped': 'كان في الملف برنامج، وقد تُرك.',
    'name-does-not-match': (p, s) =>
      `اسم الملف ${isolatedText(s, p.named)} ونوعه ${isolatedText(s, p.found)}.`,
    reduced: (p, s) =>
      `الصورة، ${s.n(p.fromWidthPx)} × ${s.n(p.fromHeightPx)} بكسل، أكبر مما يمكن استعماله، وقد صُغّرت.`,
  },
  charges: {
    'size-surcharge': (p, s) => (p.size ? `المقاس ${isolatedName(s, 'size', p.size)}` : 'المقاسات الكبيرة'),
    'extra-placement': 'طبعات إضافية',
    names: 'الأسماء',
    'finish-surcharge': 'التشطيب',
    'break-cap': 'لا أكثر من الدرجة التالية',
    'set-up-order': 'التجهيز',
    'set-up-design': 'تجهيز التصميم',
    rush: 'الاستعجال',
    delivery: 'التسليم',
    rounding: 'التقريب',
  },
  problems: {
    'malformed-json': 'لم تستطع الورشة قراءة ما أُرسل. حاول مرة أخرى.',
    'invalid-input': 'في الورقة شيء ليس كما يجب.',
    'missing-key': 'يلزم مفتاح لهذا.',
    'wrong-key': 'المفتاح غير صالح.',
    'not-allowed': 'لا يسمح هذا المفتاح بذلك.',
    'not-found': 'لا شيء هنا.',
    'method-not-allowed': 'لا تقبل الورشة ذلك هنا.',
    'unknown-shop': 'لا توجد هذه الورشة.',
    'unknown-artwork': 'لم يعد هذا التصميم لدى الورشة. أضفه مرة أخرى.',
    'unknown-id': 'لم تعد الورشة تقدّم شيئًا في هذه الورقة. اختر من جديد.',
    'artwork-in-use': 'هذا التصميم تابع لطلب ويبقى.',
    'quote-expired': 'كان السعر ساريًا حتى الآن. هذا سعر جديد.',
    'quote-altered': 'لم يأتِ هذا السعر من هذه الورشة.',
    'slip-differs': 'تغيّرت الورقة منذ حساب سعرها. هذا سعر جديد.',
    'day-not-kept': 'أخذ طلب آخر هذا اليوم قبل قليل. هذا يوم جديد.',
    'key-reused': 'أُرسل هذا الطلب من قبل بمحتوى آخر.',
    'still-running': 'يجري تقديم طلبك بالفعل. لحظة من فضلك.',
    'precondition-failed': 'تغيّر منذ قُرئ.',
    'precondition-required': 'اذكر أي نسخة تقصد.',
    'catalog-faulty': 'في الكتالوج أخطاء.',
    'too-large': 'الملف كبير جدًا.',
    'upload-protocol': 'تعذّر إرسال الملف: يستخدم المتجر إصدارًا آخر من بروتوكول الإرسال.',
    'upload-offset': 'ضاع جزء من الملف ويُرسل من جديد.',
    'upload-altered': 'تغيّر الملف في الطريق. أرسله مرة أخرى.',
    'unsupported-file': 'لا يمكن الطباعة من هذا النوع من الملفات. أرسل PNG أو JPEG أو SVG أو PDF.',
    'unreadable-file': 'لا يمكن قراءة الملف، فلعله تالف أو ناقص. احفظه من جديد وأرسله مرة أخرى.',
    'unsupported-media': 'لا يُقبل هذا النوع من المحتوى هنا.',
    'too-many-requests': 'كان ذلك كثيرًا دفعة واحدة. انتظر لحظة.',
    'state-not-allowed': 'لا يمكن نقل الطلب إلى هذه الحالة.',
    busy: 'لدى الورشة عمل كثير الآن. ستُعاد المحاولة.',
    'server-fault': 'حدث خطأ في الورشة. ورقتك محفوظة.',
  },
  states: {
    accepted: 'مقبول',
    'in-work': 'قيد العمل',
    packed: 'معبّأ',
    'handed-over': 'سُلّم',
    cancelled: 'ملغى',
  },
  late: {
    'not-kept': 'نعتذر، لا يمكن الوفاء باليوم الموعود.',
    'no-day-yet': 'غير معروف بعد',
    equipment: 'آلة يحتاجها طلبك خارج الخدمة.',
    remake: 'يجب إعادة صنع قطع من طلبك.',
    'work-before': 'استغرق عمل قبل طلبك وقتًا أطول من المخطط.',
    hours: 'تغيرت ساعات عمل المتجر.',
    people: 'عدد العاملين أقل من المخطط.',
  },
  stage: {
    drawing: (_say, view) => `${isolate(view)}، مرسوم بمقياس صحيح`,
    artworks: 'التصاميم على الرسم',
    keys: 'مفاتيح الأسهم تحرّكه، ومع Shift أبعد. الزائد والناقص يغيّران العرض، والقوسان المعقوفان يديرانه، وDelete يزيله، وEscape يتركه.',
    artwork: (say, p) =>
      `${isolate(p.name)} على ${isolate(p.face)}: ${say.size(p.widthMm, p.heightMm)}، ${place(say, p)}`,
    moved: (say, p) => `${place(say, p)}، العرض ${say.len(p.widthMm)}`,
    wide: (say, widthMm) => `العرض ${say.len(widthMm)}`,
    outside: 'يتجاوز مساحة الطباعة',
    inKeepOut: (_say, keepOut) => `يمسّ ${isolate(keepOut)}`,
    loading: 'الصورة في طريقها',
    failed: 'لا يمكن عرض الصورة',
    dropHere: 'أسقط التصميم هنا',
    chooseFile: 'أو اختر ملفًا',
  },
};
