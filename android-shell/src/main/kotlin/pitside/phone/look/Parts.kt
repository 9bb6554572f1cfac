package pitside.phone.look

import android.content.Context
import android.content.res.ColorStateList
import android.graphics.Typeface
import android.graphics.drawable.Drawable
import android.graphics.drawable.GradientDrawable
import android.graphics.drawable.RippleDrawable
import android.os.Build
import android.view.Gravity
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.view.ViewGroup.LayoutParams.WRAP_CONTENT
import android.view.accessibility.AccessibilityNodeInfo
import android.widget.Button
import android.widget.LinearLayout
import android.widget.ScrollView
import android.widget.TextView
import pitside.phone.R

/** What screens are made of. Each part brings its distances, its touch size and what a reader hears. */
class Parts(val context: Context, val look: Look) {
    private val colours = look.colours

    /** A page that scrolls, and below it what stays in reach of the thumb. */
    class Page(val view: View, val body: LinearLayout, val foot: LinearLayout)

    fun page(): Page {
        val body = column().apply { setPadding(look.dp(20), look.dp(20), look.dp(20), look.dp(Look.Space.LARGE)) }
        val scroll = ScrollView(context).apply {
            id = R.id.page
            isFillViewport = true
            addView(body, MATCH_PARENT, WRAP_CONTENT)
        }
        val foot = column().apply { setPadding(look.dp(20), 0, look.dp(20), 0) }
        val whole = column().apply {
            addView(scroll, LinearLayout.LayoutParams(MATCH_PARENT, 0, 1f))
            addView(foot, MATCH_PARENT, WRAP_CONTENT)
        }
        return Page(whole, body, foot)
    }

    fun column() = LinearLayout(context).apply { orientation = LinearLayout.VERTICAL }

    /** The heading, over the house's lane: one contact and a flight. */
    fun title(text: String): View = column().apply {
        addView(words(text, Look.Type.TITLE, colours.ink).apply {
            typeface = MEDIUM
            heads(true)
        })
        val lane = LinearLayout(context).apply {
            gravity = Gravity.CENTER_VERTICAL
            importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        }
        lane.addView(View(context).apply { setBackgroundColor(colours.accent) }, look.dp(44), look.dp(10))
        lane.addView(View(context).apply { setBackgroundColor(colours.edge) }, MATCH_PARENT, maxOf(look.edge, look.dp(1)))
        addView(lane, below(Look.Space.SMALL))
    }

    /** A smaller heading. */
    fun label(text: String): TextView = words(text, Look.Type.SMALL, colours.soft).apply { typeface = MEDIUM }

    fun text(text: String): TextView = words(text, Look.Type.BODY, colours.ink)

    /** The one sentence that a screen is opened for. */
    fun large(text: String): TextView = words(text, Look.Type.LARGE, colours.ink).apply { typeface = MEDIUM }

    fun softText(text: String): TextView = words(text, Look.Type.SMALL, colours.soft)

    /** A heading inside a page. */
    fun heading(text: String): TextView = words(text, Look.Type.LARGE, colours.ink).apply {
        typeface = MEDIUM
        heads(true)
    }

    /** What a person does next, to be read from a distance. */
    fun leading(text: String): TextView = words(text, Look.Type.LARGE, colours.ink).apply { typeface = MEDIUM }

    /** A time that runs, to be read from a distance. */
    fun clock(text: String): TextView = words(text, Look.Type.CLOCK, colours.ink).apply { typeface = MEDIUM }

    private fun words(text: String, sp: Float, colour: Int) = TextView(context).apply {
        this.text = text
        textSize = sp
        setTextColor(colour)
        setLineSpacing(0f, 1.15f)
        textAlignment = View.TEXT_ALIGNMENT_VIEW_START
        fontFeatureSettings = TABULAR
    }

    /** The main thing to do. */
    fun wide(text: String, onTap: () -> Unit): Button =
        button(text, colours.accent, colours.onAccent, null, Look.Touch.WIDE, onTap).apply { textSize = Look.Type.LARGE }

    /** As wide, where another one is the main thing. */
    fun broad(text: String, onTap: () -> Unit): Button =
        button(text, colours.raised, colours.ink, colours.edge, Look.Touch.WIDE, onTap).apply { textSize = Look.Type.LARGE }

    /** A bar to be held; `spoken` is what a reader does instead. */
    fun hold(text: String, spoken: String, onHeld: () -> Unit): Button = Hold(context, look, spoken, onHeld).apply {
        wear(this, text, colours.raised, colours.ink, colours.accent, Look.Touch.WIDE)
        textSize = Look.Type.LARGE
        (background as RippleDrawable).setColor(ColorStateList.valueOf(0))
    }

    /** Another thing to do. */
    fun plain(text: String, onTap: () -> Unit): Button =
        button(text, colours.raised, colours.ink, colours.edge, Look.Touch.SMALL, onTap)

    /** Something to do that stands in a row of such: no edge, and as narrow as its words. */
    fun flat(text: String, onTap: () -> Unit): Button =
        button(text, 0, colours.ink, null, Look.Touch.SMALL, onTap).apply {
            textSize = Look.Type.SMALL
            // The theme's least width would hold besides the one above.
            minimumWidth = 0
            setPadding(look.dp(6), look.dp(8), look.dp(6), look.dp(8))
        }

    private fun button(text: String, fill: Int, ink: Int, edge: Int?, height: Int, onTap: () -> Unit) = Button(context).apply {
        wear(this, text, fill, ink, edge, height)
        setOnClickListener { onTap() }
    }

    /** Gives a button its looks. */
    private fun wear(button: Button, text: String, fill: Int, ink: Int, edge: Int?, height: Int) = button.apply {
        this.text = text
        isAllCaps = false
        textSize = Look.Type.BODY
        typeface = MEDIUM
        setTextColor(ink)
        background = surface(fill, edge, ink)
        stateListAnimator = null
        minHeight = look.dp(height)
        minWidth = look.dp(Look.Touch.SMALL)
        setPadding(look.dp(18), look.dp(10), look.dp(18), look.dp(10))
    }

    /** What lies behind a field to type in. */
    fun edged(): Drawable = surface(colours.raised, colours.edge, colours.ink)

    internal fun surface(fill: Int, edge: Int?, ink: Int): Drawable {
        val shape = GradientDrawable().apply {
            setColor(fill)
            cornerRadius = look.dp(6).toFloat()
            edge?.let { setStroke(look.edge, it) }
        }
        // What answers the finger is the ink, thinned.
        return RippleDrawable(ColorStateList.valueOf(ink and 0x00FFFFFF or 0x33000000), shape, null)
    }

    /**
     * What can be chosen, one alone or `several`; `chosen` is told by the fill, by a mark and to
     * the reader.
     */
    fun choice(text: String, chosen: Boolean, several: Boolean = false, onTap: () -> Unit): Button {
        val shown = if (chosen) "\u2713 $text" else text
        val made = if (chosen) button(shown, colours.ink, colours.ground, null, Look.Touch.SMALL, onTap) else plain(shown, onTap)
        made.contentDescription = text
        made.accessibilityDelegate = object : View.AccessibilityDelegate() {
            override fun onInitializeAccessibilityNodeInfo(host: View, info: AccessibilityNodeInfo) {
                super.onInitializeAccessibilityNodeInfo(host, info)
                info.className = if (several) "android.widget.CheckBox" else "android.widget.RadioButton"
                info.isCheckable = true
                info.isChecked = chosen
            }
        }
        return made
    }

    fun choices(all: List<View>): View = Flow(context, look.dp(Look.Space.SMALL)).apply { all.forEach(::addView) }

    /** A number between two large buttons. */
    fun stepper(label: String, value: String, less: String, more: String, step: (Int) -> Unit): View {
        val figure = words(value, if (value.length > 4) Look.Type.LARGE else Look.Type.FIGURE, colours.ink).apply {
            typeface = MEDIUM
            gravity = Gravity.CENTER
            textAlignment = View.TEXT_ALIGNMENT_CENTER
            contentDescription = "$label: $value"
            accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        }
        val name = label(label).apply { importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO }
        val line = LinearLayout(context).apply { gravity = Gravity.CENTER_VERTICAL }
        val size = LinearLayout.LayoutParams(look.dp(76), WRAP_CONTENT)
        line.addView(sign("\u2212", "$less, $label") { step(-1) }, size)
        // On its side a phone is wide: the two buttons stay in reach of one thumb.
        val broad = context.resources.configuration.screenWidthDp > 480
        line.addView(figure, if (broad) LinearLayout.LayoutParams(look.dp(170), WRAP_CONTENT) else LinearLayout.LayoutParams(0, WRAP_CONTENT, 1f))
        line.addView(sign("+", "$more, $label") { step(1) }, LinearLayout.LayoutParams(size))
        return column().apply {
            addView(name)
            addView(line, below(4))
        }
    }

    private fun sign(sign: String, spoken: String, onTap: () -> Unit) = plain(sign, onTap).apply {
        contentDescription = spoken
        // A sign is no text to be read; it need not grow past its button.
        setTextSize(android.util.TypedValue.COMPLEX_UNIT_DIP, 26f)
        minHeight = look.dp(Look.Touch.WIDE - 8)
        setPadding(0, 0, 0, 0)
    }

    /** A sentence that should not be passed over: a bar stands before it. */
    fun caution(text: String): View = barred(words(text, Look.Type.SMALL, colours.ink))

    /** Something with that bar before it. */
    fun barred(what: View): View = LinearLayout(context).apply {
        val bar = View(context).apply { setBackgroundColor(colours.caution) }
        addView(bar, LinearLayout.LayoutParams(look.dp(5), MATCH_PARENT))
        addView(what, LinearLayout.LayoutParams(0, WRAP_CONTENT, 1f).apply { marginStart = look.dp(12) })
    }

    /** A record in a list, read out as one sentence. */
    fun row(lines: List<TextView>, spoken: String): View = column().apply {
        setPadding(0, look.dp(12), 0, look.dp(12))
        lines.filter { it.text.isNotEmpty() }.forEach {
            it.importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
            addView(it)
        }
        contentDescription = spoken
        isFocusable = true
        importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_YES
    }

    fun rule(): View = View(context).apply { setBackgroundColor(colours.edge) }

    /** The thickness of a rule. */
    val ruled: LinearLayout.LayoutParams get() = LinearLayout.LayoutParams(MATCH_PARENT, look.edge)

    /** Full width, so far below what stands above. */
    fun below(dp: Int) = LinearLayout.LayoutParams(MATCH_PARENT, WRAP_CONTENT).apply { topMargin = look.dp(dp) }

    private companion object {
        val MEDIUM: Typeface = Typeface.create("sans-serif-medium", Typeface.NORMAL)

        /** Figures of one width, so that they stand below each other. */
        const val TABULAR = "tnum"
    }
}

/** Whether a reader jumps here from heading to heading; before Android 9 it has no such jump. */
fun View.heads(yes: Boolean) {
    if (Build.VERSION.SDK_INT >= Build.VERSION_CODES.P) isAccessibilityHeading = yes
}

/** Adds a part so far below the one before. */
fun LinearLayout.add(part: View, look: Look, dp: Int = Look.Space.MIDDLE) {
    addView(part, LinearLayout.LayoutParams(MATCH_PARENT, WRAP_CONTENT).apply { topMargin = look.dp(dp) })
}
