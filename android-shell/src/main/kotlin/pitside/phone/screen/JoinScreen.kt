package pitside.phone.screen

import android.content.ClipboardManager
import android.content.Context
import android.graphics.Typeface
import android.graphics.drawable.GradientDrawable
import android.os.Bundle
import android.text.Editable
import android.text.InputType
import android.text.TextWatcher
import android.view.TextureView
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.view.inputmethod.EditorInfo
import android.widget.EditText
import android.widget.LinearLayout
import pitside.phone.R
import pitside.phone.exchange.Sight
import pitside.phone.exchange.qrText
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Invited

/** An invitation is scanned, pasted or typed; the phone then joins the squad. */
class JoinScreen(frame: Frame, private val context: Context, kept: Bundle?) : Watched(frame, context) {
    private var text = kept?.getString(TEXT).orEmpty()
    private var sight: Sight? = null
    private var scansAgain = false
    private var noCamera = false
    private var nothingToPaste = false

    override fun load() = ask({ it.joinForm(env) }) { redraw(draw(it)) }

    override fun keep(state: Bundle) = state.putString(TEXT, text)

    private fun draw(screen: Invited): View {
        val page = parts.page()
        page.body.addView(parts.title(screen.title))
        val watched = watched(page, screen.cancel, screen.close, "") { end -> if (end.done) frame.back() else load() }
        if (!watched) {
            if (screen.inSquad.isNotEmpty()) page.body.add(parts.text(screen.inSquad), look)
            screen.about.forEach { page.body.add(parts.text(it), look, Look.Space.SMALL) }
            camera(page.body, screen)
            field(page, screen)
        }
        closeFoot(page)
        return page.view
    }

    private fun camera(body: LinearLayout, screen: Invited) {
        val open = sight
        if (open == null) {
            body.add(parts.plain(screen.scan) { frame.permit(listOf(android.Manifest.permission.CAMERA), CAMERA) }, look, Look.Space.LARGE)
            if (noCamera) body.add(parts.caution(screen.noCamera), look, Look.Space.SMALL)
            return
        }
        val seen = TextureView(context).apply { contentDescription = screen.scanning }
        body.addView(seen, LinearLayout.LayoutParams(MATCH_PARENT, look.dp(300)).apply { topMargin = look.dp(Look.Space.LARGE) })
        body.add(parts.softText(screen.scanning), look, Look.Space.SMALL)
        body.add(parts.plain(screen.stopScanning) { close(); redraw(draw(screen)) }, look, Look.Space.SMALL)
        open.open(seen, { picture -> qrText(picture)?.let { found -> view.post { found(found) } } }) {
            // Of one that was closed since, nothing is to be said.
            if (sight !== open) return@open
            noCamera = true
            close()
            load()
        }
    }

    /** What was read waits for the person to join; a second picture changes nothing. */
    private fun found(invitation: String) {
        if (sight == null) return
        close()
        text = invitation
        load()
    }

    private fun close() {
        sight?.close()
        sight = null
    }

    override fun leave() = close()

    override fun stop() {
        scansAgain = sight != null
        close()
    }

    override fun start() {
        if (!scansAgain) return
        scansAgain = false
        permitted(CAMERA, true)
    }

    override fun permitted(code: Int, granted: Boolean) {
        // Where it is refused, joining says why it reached nobody.
        if (code == NETWORK) return joinNow()
        if (code != CAMERA) return
        noCamera = !granted
        if (granted) sight = frame.phone.outside.sight(context)
        load()
    }

    private fun field(page: Parts.Page, screen: Invited) {
        val body = page.body
        body.add(parts.label(screen.text), look, Look.Space.LARGE)
        val field = EditText(context).apply {
            id = R.id.invitation
            setText(this@JoinScreen.text)
            contentDescription = screen.text
            inputType = InputType.TYPE_CLASS_TEXT or InputType.TYPE_TEXT_FLAG_MULTI_LINE or
                InputType.TYPE_TEXT_FLAG_NO_SUGGESTIONS or InputType.TYPE_TEXT_FLAG_CAP_CHARACTERS
            // What admits to a squad is not learnt by a keyboard.
            imeOptions = EditorInfo.IME_FLAG_NO_PERSONALIZED_LEARNING
            importantForAutofill = View.IMPORTANT_FOR_AUTOFILL_NO
            typeface = Typeface.MONOSPACE
            textSize = Look.Type.SMALL
            minLines = 2
            setTextColor(look.colours.ink)
            minHeight = look.dp(Look.Touch.WIDE)
            setPadding(look.dp(12), look.dp(12), look.dp(12), look.dp(12))
            background = GradientDrawable().apply {
                setColor(look.colours.raised)
                cornerRadius = look.dp(6).toFloat()
                setStroke(look.edge, look.colours.edge)
            }
            addTextChangedListener(object : TextWatcher {
                override fun beforeTextChanged(s: CharSequence, start: Int, count: Int, after: Int) = Unit
                override fun onTextChanged(s: CharSequence, start: Int, before: Int, count: Int) = Unit
                override fun afterTextChanged(s: Editable) {
                    this@JoinScreen.text = s.toString()
                }
            })
        }
        body.add(field, look, 4)
        body.add(parts.plain(screen.paste) { paste() }, look, Look.Space.SMALL)
        if (nothingToPaste) body.add(parts.softText(screen.nothingToPaste), look, Look.Space.SMALL)
        page.foot.add(parts.wide(screen.join) { join() }.apply { id = R.id.save }, look, Look.Space.SMALL)
    }

    private fun paste() {
        val clip = context.getSystemService(ClipboardManager::class.java).primaryClip
        val found = clip?.takeIf { it.itemCount > 0 }?.getItemAt(0)?.coerceToText(context)?.toString().orEmpty()
        nothingToPaste = found.isBlank()
        if (!nothingToPaste) text = found
        close()
        load()
    }

    private fun join() = frame.permit(localNetwork(), NETWORK)

    private fun joinNow() {
        val invitation = text
        close()
        work.begin { core, job -> core.joinNow(frame.phone.device.env(), invitation, job) }
        load()
    }

    private companion object {
        const val TEXT = "text"
        const val CAMERA = 1
        const val NETWORK = 2
    }
}
