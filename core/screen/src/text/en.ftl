# English. The words of every screen; numbers and days are filled in.

## Days

day = { $weekday } { $day } { $month }
today = today
yesterday = yesterday
tomorrow = tomorrow
weekday-1 = Mon
weekday-2 = Tue
weekday-3 = Wed
weekday-4 = Thu
weekday-5 = Fri
weekday-6 = Sat
weekday-7 = Sun
weekday-long-1 = Monday
weekday-long-2 = Tuesday
weekday-long-3 = Wednesday
weekday-long-4 = Thursday
weekday-long-5 = Friday
weekday-long-6 = Saturday
weekday-long-7 = Sunday
month-1 = Jan
month-2 = Feb
month-3 = Mar
month-4 = Apr
month-5 = May
month-6 = Jun
month-7 = Jul
month-8 = Aug
month-9 = Sep
month-10 = Oct
month-11 = Nov
month-12 = Dec
week-label = wk { $number }
week-of = { $week }, { $day }

decimal-mark = .
clock-am = am
clock-pm = pm

## Kinds of contact

kind-vertical-rebound = vertical rebounds
kind-horizontal-series = horizontal series
kind-held-landing = held landings
kind-lateral = lateral
kind-event-take-off = event take-offs
kind-sprint = sprinting
kind-paused-jump = paused jumps

## Figures

contacts = { $n ->
    [one] { $n } contact
   *[other] { $n } contacts
}
energy = { $energy } J/kg
leg-total = { $n } · { $energy } J/kg
load = session-RPE { $load }
load-spoken = { $load } session-RPE times minutes
session-rpe = session-RPE × min
unrated = { $n ->
    [one] 1 unrated
   *[other] { $n } unrated
}
week-before-begin = { $week }: before anything is known
incomplete-spoken = { $n ->
    [one] incomplete, 1 day unknown
   *[other] incomplete, { $n } days unknown
}
hardest = { $exercise }, { $speed } m/s, { $energy } J/kg a leg
hardest-estimated = { $exercise }, about { $speed } m/s, { $energy } J/kg a leg (estimate)
landing = landing { $speed } m/s along the leg, { $energy } J/kg a leg
push = push { $mean } BW a leg on average, peak about { $peak } BW without the impact
mean-label = { $n ->
    [one] { $exercise }, 1 contact
   *[other] { $exercise }, mean of { $n } contacts
}
place-label = { $exercise }, { $what }
contact-label = contact { $n }, { $foot }
label-landing = Landing
label-push = Push
times-measured = Times: measured from a clip
times-stated = Times: as stated
times-default = Times: the exercise's usual ones, { $support } ({ $source })
move-hop = hop
move-bound = bound
move-step = step
move-jump = jump
move-drop-jump = rebound off the box
move-rebound = rebound
move-skip = skip
move-sprint-stride = stride
move-take-off = take-off
move-lateral-hop = hop to the side
move-landing = landing
mark-measured = measured
mark-partly = contact measured, the rest estimated
mark-estimate = an estimate
mark-published = from published values
support-published = published
support-derived = worked out from published numbers
support-estimate = an estimate of ours

## A member

no-name = No name yet ({ $short })
level-beginner = beginner
level-intermediate = intermediate
level-advanced = advanced
level-unknown = level not known
age = { $years } years
age-young = young: { $years } years
age-unknown = age not known, counts as young
card-title = Card of { $name }
card-about = What is not known is never taken for the better value: an unknown age counts as young, an unknown level as a beginner's. Each field is kept by itself.
link-card = Change the card
card-name = Name
card-born = Born
card-level = Level
card-take-off-leg = Take-off leg
card-hop-pattern = Hop pattern
card-mass = Body mass
card-sprint = Sprint
card-stride = Stride of the run-in
card-roster = On the roster
not-known = not known
side-left = left
side-right = right
pattern-llr = left, left, right
pattern-rrl = right, right, left
sprint = { $speed } m/s at most, time constant { $tau } s
roster-active = on the roster
roster-left = left the squad

## Sessions and sets

session = Session
exercise-unknown = an exercise not in the catalogue
set = { $reps } × { $exercise }
sets-alike = { $n } sets: { $set }
leg-left = left leg
leg-right = right leg
leg-both = both legs
leg-alternate-left = legs in turn, left first
leg-alternate-right = legs in turn, right first
strides = { $n ->
    [one] run-in of 1 stride
   *[other] run-in of { $n } strides
}
run-in-distance = run-in of { $distance }
event-long-jump = long jump
event-triple-jump = triple jump
jump-foul = foul
jump-attempt = attempt { $n }
jump-wind = wind { $speed } m/s
jump-no-gauge = no wind gauge
jump-toe-behind = toe { $by } behind the line
jump-toe-over = toe { $by } over the line
jump-start-mark = start mark at { $distance }
last-10-m = last 10 m in { $seconds } s
cue-short = cue: short
cue-high = cue: high
warm-up = warm-up
pit-landings = { $n ->
    [one] { $n } landing in the pit, counted in no kind.
   *[other] { $n } landings in the pit, counted in no kind.
}
work-strength = strength
work-running = running
work-general = general exercises
work-other-sport = another sport
work-school = sport at school
work-other = other training
warm-up-spoken = { $n } contacts in the warm-up
box = box { $height }
outside-load = outside load { $load }
contacts-each = { $n ->
    [one] 1 contact each
   *[other] { $n } contacts each
}
effort = RPE { $rpe } × { $minutes } min
effort-missing = not rated yet: ask about 30 minutes after the end
label-day = Day
label-effort = Effort
label-location = Place
label-surface = Surface
label-shoes = Shoes
label-weather = Weather
label-cut-short = Cut short
surface-track = track
surface-grass = grass
surface-hall = hall floor
surface-sand = sand
surface-mat = mat
surface-hard = hard ground
shoes-spikes = spikes
shoes-flats = flats
shoes-bare = bare feet
trouble-exercise = Its exercise is not in the catalogue here, so it is not counted.
trouble-field = It does not fit its exercise, so it is not counted: { $why }
last-session = last session { $what }
kept-here = only on this device
kept-file = handed over as a file, { $at }; not confirmed
kept-coach = on the coach's device since { $at }
kept-device = on another device since { $at }
kept-elsewhere = confirmed by another device

## Takes

take-title = { $exercise }, { $day }
take-note = A clip gives times, never an impact peak: that can be several times the mean force.
take-judging = Judging: ± { $frames } frames at each event, as this squad's own people agree.
take-rendered = A drawn clip, not a filmed one.
target-value = { $about }: below { $ms } ms
target-contact = contact { $n }
targets-title = Targets of contact times
targets-about = An athlete’s own target stands before the squad’s, the squad’s before a published one; the one that says contact and run-in before one that says less. For bounds none is published, since sources disagree: an athlete’s own best is a good one.
targets-squad = the squad
take-refused = No times: { $why }
marking-title = Time a clip
marking-filming = Film from the side in slow motion, the camera still, foot and ground in view; keep the original file. What a messenger passes on may have lost its frames.
marking-touchdown = Touchdown, { $foot }
marking-toe-off = Toe-off, { $foot }
marking-between = { $what }: between frames { $before } and { $after }
marking-doubted = { $what }: in doubt between frames { $before } and { $after }
marking-no-clock = There are no times yet: the clip’s clock is not known. State the capture rate, or measure it in the clip.
marking-no-rate = There are no times: the clip has fewer than two frames, or most of them share one time.
marking-nothing = nothing is marked yet
clock-real = The clip’s times are real.
clock-stretched = The clip is slowed evenly; its times are computed back.
clock-mixed = A part of the clip is slowed, another is not: its times cannot be used as they are.
clock-unknown = Whether the clip’s times are real is not known.
clock-measured = The clock was measured in the clip, to { $share } % (standard uncertainty).
judged-moves = { $moves }: { $times } s.
judged-reactive = { $rebounds ->
    [one] Reactive strength { $value } ± { $half } m/s: contact { $contact } s, height { $height } m. The height is read from the flight: it holds where body and legs land as they left.
   *[other] Reactive strength over { $rebounds } rebounds on average { $value } ± { $half } m/s: contact { $contact } s, height { $height } m. The height is read from the flight: it holds where body and legs land as they left.
}
judged-mean = The mean
judged-contact = Contact { $n }
judged-target = { $what } against { $target } ms ({ $source }): { $answer }
judged-own = own target
judged-squad = target of the squad
judged-published = published, nobody here has set one
judged-yes = below, with { $share } %.
judged-no = not below; { $share } % for it.
judged-cannot-tell = this camera cannot tell; { $share } % for below. Would tell: { $would }.
judged-faster = { $rate } frames a second
judged-more = { $contacts } contacts at this rate
judged-nothing = nothing proposed here
judged-longer = The { $contacts } contacts lengthen, by { $size } ms from the first to the last.
judged-shorter = The { $contacts } contacts shorten, by { $size } ms from the first to the last.
judged-steady = Over the { $contacts } contacts no lengthening is shown.
judged-change-unseen = Since { $day }: { $difference } ms. This camera shows changes from { $camera } ms on.
judged-change-seen = Since { $day }: { $difference } ms, which this camera shows. How much is usual from day to day is known from three days on.
judged-change-usual = Since { $day }: { $difference } ms. From day to day up to { $own } ms are usual here.
judged-change-beyond = Since { $day }: { $difference } ms, more than the { $own } ms that are usual from day to day here.
judged-agreement = Timed by two people: of { $events } events the readings are { $bias } frames apart on average, 95 % of them between { $low } and { $high }.

## Takes on a phone

takes-title = Contact times
takes-choose = Choose a slow-motion clip
takes-later = To be marked
takes-done = Times kept, clip still on this phone
takes-newest = Newest times
takes-none = No clip is timed yet.
takes-gone = The clip is not found where it was chosen: it was moved or deleted, or this phone may no longer read it.
takes-not-deleted = The clip cannot be deleted from here. Delete it where it is kept.
choose-title = This clip gives no times to rely on
choose-slow = It holds { $rate } frames a second: { $ms } ms lie between two of them, too much for a contact.
choose-original = Choose the original file as the camera kept it, filmed in slow motion. What a messenger, an editing program or an online store hands on may have lost frames or their times.
choose-another = Choose another clip
choose-anyway = Mark this one all the same
clip-size = { $size } MB
clip-size-small = { $size } kB
clips-full = { $n } clips wait to be marked, and there is no room for more. Mark one, or take one off the list, and choose this one again.
clip-chosen = chosen { $day }
clip-marks = { $n ->
    [0] nothing marked yet
    [one] { $n } mark
   *[other] { $n } marks
}
clip-delete = Delete the clip, keep the times
clip-hold-delete = Hold to delete the clip and keep the times
clip-hold-delete-size = Hold to delete the clip and keep the times ({ $size })
clip-delete-size = Delete the clip, keep the times ({ $size })
clip-keep = Keep the clip, take it off the list
clip-drop = Take it off the list, without its marks
clip-hold-drop = Hold to take it off the list, without its marks
judged-line-mean = mean of { $n }: { $time }
judged-line-newest = contact { $n }: { $time }
judged-line-below = { $time } · below { $target }
judged-line-above = { $time } · not below { $target }
judged-line-cannot = { $time } · can’t tell from { $target }
mark-none = Nothing is marked yet.
mark-whose = Say under “Details” whose clip this is and what it shows.
mark-open = No contact is complete yet: its toe-off is missing.
mark-ended = The exercise ends here; this would be a further event.
mark-before-touchdown = not yet
mark-after-touchdown = on
mark-before-toe-off = still on
mark-after-toe-off = off
mark-hint-touchdown = Step until one picture shows the foot not yet on the ground and the next one on it. Tap the gap between. If a picture could be either, drag the gap over it.
mark-hint-toe-off = Step until one picture shows the foot still on the ground and the next one off it. Tap the gap between. If a picture could be either, drag the gap over it.
mark-caption = { $frame } · { $time } s
mark-outside = outside the clip
mark-frame = Frame { $frame }, { $time } s; the last is { $last }
mark-no-gap = No gap here
mark-undo = Undo
mark-undo-what = Undo: { $what }
mark-save = Save the times
mark-later = Mark later
mark-more = Details
mark-less = Fewer details
mark-foot = Where the foot is
mark-foot-hint = Drag the box to where the foot meets the ground. It stays there for this clip.
mark-closer = Closer
mark-wider = Wider
mark-pin = Keep it there
mark-strip = Frames
mark-on = One frame on
mark-back = One frame back
mark-other-foot = Other foot
mark-other-kind = Other event
mark-shows = The clip shows
mark-sets = A set that was logged
mark-exercises = Or an exercise
mark-rate-title = Frames a second when filmed
mark-rate-own = as the clip says
mark-rate = { $rate }
mark-hand = Held in
mark-hand-left = left hand
mark-hand-right = right hand
mark-doubt-before = In doubt: the picture before the gap too
mark-doubt-after = In doubt: the picture after the gap too
mark-no-picture = This phone cannot show the pictures of this clip.
rendered-on = { $day }, drawn clip
foot-left = left
foot-right = right
foot-both = both feet

## What hurts, limits

hurt = { $place }: { $score } of 10, { $day }
part-foot = foot
part-ankle = ankle
part-achilles = Achilles tendon
part-calf = calf
part-shin = shin
part-knee = knee
part-thigh = front of the thigh
part-hamstring = back of the thigh
part-groin = groin
part-hip = hip
part-low-back = low back
part-elsewhere = elsewhere
sign-limp = limping
sign-bony-spot = pain on one spot of a bone
sign-night = pain at night
sign-swelling = swelling
sign-giving-way = a joint gives way
sign-on-arching = the low back hurts on arching
private-not-shared = What hurts is not shared.
private-none = What hurts is shared; nothing was written down.
private-withdrawn = Sharing of what hurts was withdrawn: what came before is no longer shown here, and is kept until erased.
limit-one-leg-left = no one-leg contacts on the left
limit-one-leg-right = no one-leg contacts on the right
limit-approach = no run-in
limit-box = boxes up to { $height }
limit-until = { $what }; { $from } to { $until }, said by { $by }
limit-open = { $what }; from { $from } until lifted, said by { $by }
limit-past = over, or not yet: { $limit }
said-by-coach = the coach
said-by-clinician = a clinician

## Tests, growth, landings, rules

test-result = { $test }: { $value }, { $day }
test-squat = Squat, one repetition, without the body’s own weight
test-five-squats = Five squats with 60 % of body weight
test-one-leg-stand = Standing on one leg
test-vertical-jump = Jump up from a stand
test-standing-long-jump = Long jump from a stand
test-standing-triple-jump = Triple jump from a stand
test-five-bounds = Five bounds from a stand
test-flying-ten = Ten metres at full speed
test-sprint-30 = Thirty metres from a stand
height = { $height } tall, { $day }
control = { $exercise }: { $how }, { $day }
control-held = landing held
control-corrected = landing held after a step or a sway
control-lost = landing not held
control-knee = the knee came inward
control-trunk = the trunk tipped or turned
advice = { $place }: up to { $score } of 10, { $from } to { $until } ({ $note })
unit-percent = { $value } %
unit-weeks = { $n ->
    [one] 1 week
   *[other] { $n } weeks
}
unit-days = { $n ->
    [one] 1 day
   *[other] { $n } days
}
unit-hours = { $n ->
    [one] 1 hour
   *[other] { $n } hours
}
unit-years = { $n ->
    [one] 1 year
   *[other] { $n } years
}
unit-energy = { $value } J/kg a leg
unit-growth = { $value } a year
unit-seconds = { $value } s
rule-week-contacts = Contacts of a kind in a week, of the mean of the weeks before
rule-week-load = Session load of a week, of the mean of the weeks before
rule-hardest-contact = Hardest contact of a kind, of the hardest of the weeks before
rule-first-exposure = An exercise or run-in counts as new when not seen for
rule-hard-days = Time between two hard days
rule-gap = A gap in plyometric work, from
rule-hard-vertical-rebound = A vertical rebound is hard from
rule-hard-horizontal-series = A contact of a horizontal series is hard from
rule-hard-held-landing = A held landing is hard from
rule-hard-lateral = A contact to the side is hard from
rule-hard-event-take-off = A take-off of an event is hard from
rule-hard-sprint = A stride of a sprint is hard from
rule-hard-paused-jump = A landing of a paused jump is hard from
rule-session-beginner = Plyometric contacts of a session, beginner
rule-session-intermediate = Plyometric contacts of a session, intermediate
rule-session-advanced = Plyometric contacts of a session, advanced
rule-young-age = Below this age, or of unknown age, an athlete counts as young
rule-young-days = Days of plyometric work in seven days, the young
rule-young-contacts = Plyometric contacts of a session, the young
rule-guardian-consent = Below this age, or of unknown age, a guardian’s consent is asked for
rule-first-box = First boxes to drop from, up to
rule-heavy-mass = Above this body mass, boxes to drop from are bounded
rule-heavy-box = Box to drop from, heavy athletes, up to
rule-squat = Squat before depth work, of body weight
rule-five-squats = Five squats with 60 % of body weight before depth work, within
rule-one-leg-stand = Standing on one leg before depth work
rule-growth = Growth asks the coach when faster than
rules-off = off
rules-written = { $name }: { $line }. { $reason }
rules-until = { $rule } (until { $until })

## What speaks against a set

grade-bound = Not offered
grade-stop = Stop
grade-ask = Ask the coach
grade-caution = Bear in mind
against-leg-left = It has one-leg contacts on the left.
against-leg-right = It has one-leg contacts on the right.
against-run-in = It has a run-in.
against-box = The box is { $found } high.
against-first-box = A fall from { $found }: this exercise was not done from a box before.
against-higher-box = A fall from { $found }: in this exercise { $highest } is the highest box so far.
against-squat = Squat: { $found } of body weight, { $day }.
against-squat-unknown = Squat or body mass is not known.
against-five-squats = Five squats with 60 % of body weight: { $found }, { $day }.
against-five-squats-unknown = How long five squats with 60 % of body weight take is not known.
against-stand = Standing on one leg, { $side }: { $found }, { $day }.
against-stand-unknown = Standing on one leg, { $side }: not known.
against-side-left = left
against-side-right = right
against-side-either = left and right
against-heavy = A fall from { $found }, of a heavy athlete.
against-heavy-unknown = A fall from a high box; body mass is not known.
against-contacts = With this set: { $found } today.
against-young-contacts = Young, or of unknown age. With this set: { $found } today.
against-young-days = Young, or of unknown age. With this one: { $found } of plyometric work in seven days.
against-young-row = Young, or of unknown age. There was plyometric work yesterday too.
against-landings-held = Landings were held lately: a coach may weigh that.
against-landings-open = Landings that are held come before more.
against-consent = Young, or of unknown age: no guardian’s consent is written down.
against-growth = Growing { $found }, from { $from } to { $to }.
against-gap = No plyometric work for { $found } before this.
against-sign = Told on { $day }: { $sign }.
against-sign-earlier = Told on { $day }, and not since: { $sign }.
against-pain = { $place }: { $score } of 10 in the last seven days.
against-pain-rising = { $place }: { $score } of 10 in the last seven days, { $before } in the seven days before.
against-pain-young = { $place }: { $score } of 10 in the last seven days. Young, or of unknown age, no score is taken as acceptable.
against-pain-new = { $place }: { $score } of 10 in the last seven days, nothing of it in the seven days before.
against-by-limit = A limit: { $limit }.
against-by-rule = The line — { $rule }: { $line }.
against-by-pain = With pain above { $line } of 10 training stops; up to there it goes on only as a clinician advised.
against-apart = See the athlete’s own page first, apart from the others.
against-by-sign = This is to be seen at any score of pain.
against-by-advice = A clinician advised: up to { $score } of 10, and it settles by the next morning.
against-source = From: { $source }.
drawn-product = Comes with the product: { $source }.
drawn-squad = The squad’s own line: { $reason }.
drawn-athlete = A line for this athlete: { $reason }.
may-keep = Do something else. Only whoever said the limit lifts it.
may-lower = Begin lower, and go higher step by step while contacts stay short and quiet. Higher is the coach’s decision.
may-test = Test it, or write down what was tested; until then stay with low boxes. Low rebounds stay open.
may-train = Stay with low boxes until the line is reached. Low rebounds stay open.
may-fewer = Do fewer contacts, or leave the rest for another day.
may-day = Take another day.
may-guardian = Ask a guardian; the coach writes the consent down on the laptop, under “Rules”, as an exception with its reason. Local rules come first.
may-measure = Ask the coach: keep contacts few and low while growth is fast, and measure again.
may-begin = Begin below what was done before the gap.
may-end = Say, or ask, where it hurts and on which side; the session may end here.
may-refer = Stop, and have it seen by a licensed practitioner. This is no diagnosis; local rules come first.
may-seen = Ask whether a licensed practitioner has seen it, before anything is offered.
may-advised = Go on as advised. End where it rises, or has not settled by the next morning.
log-set-bound = What is not offered can still be logged if it was done: nothing is lost, and the coach sees it beside the limit.

## Sets, sessions and groups on a phone

log-set-all = Another exercise
log-set-find = Part of its name
log-set-no-load = Without the load
log-set-warm-up = Drill of the warm-up
again-as = { $n ->
    [one] Again as on { $day }: 1 set, { $contacts }
   *[other] Again as on { $day }: { $n } sets, { $contacts }
}
action-group = Log for a group
effort-ask = How hard was it?
effort-ask-whom = How hard was it for { $name }?
effort-ask-many = { $n ->
    [one] How hard was it for 1 athlete?
   *[other] How hard was it for { $n } athletes?
}
effort-about = The whole session, { $day }
effort-about-whom = { $name }: the whole session, { $day }
effort-asked = Asked about half an hour after the end, so that the last minutes do not stand for all of it (Foster et al. 2001).
effort-asked-later = Best said about half an hour after the end, from { $at } on, so that the last minutes do not stand for all of it (Foster et al. 2001).
effort-word-0 = rest
effort-word-1 = very, very easy
effort-word-2 = easy
effort-word-3 = moderate
effort-word-4 = somewhat hard
effort-word-5 = hard
effort-word-7 = very hard
effort-word-10 = as hard as can be
effort-minutes = Minutes, with the warm-up
effort-minutes-saved = As it was written down.
effort-minutes-sets = From the first set at { $first } to the last at { $last }. Add the warm-up.
effort-minutes-none = The sets do not say how long it was.
effort-save = Save
effort-change = Change how hard it was
effort-remind = Remind me half an hour after the last set
effort-remind-about = This device then shows the question as a notification, without a name and without what you did. It is asked on the first screen in either case.
session-no-sets = No set in it yet.
session-hold = Hold a set to put it right or take it back.
session-conditions = Ground, weather, shoes
session-cut = Cut short, because of …
session-cut-note = The coach sees this reason. What hurts stays with you unless you share it.
session-cut-back-spoken = It was not cut short
session-clash-first = Two people wrote this session down differently. Choose between the two first, on the exchange screen; where you cannot, the coach does.
session-cut-back = Hold: it was not cut short
session-who-may = This device reads this session and does not change it.
cut-pain = pain
cut-tired = tiredness
cut-weather = weather
cut-time = time
cut-ground = ground or gear
cut-other = something else
label-wetness = How wet
label-wind = Wind
label-warmth = Air
wetness-dry = dry
wetness-damp = damp
wetness-wet = wet
wind-calm = calm
wind-tail = tailwind
wind-head = headwind
wind-cross = crosswind
wind-gusts = gusty
warmth-cold = cold, below 5 °C
warmth-cool = cool, 5 to 14 °C
warmth-warm = warm, 15 to 24 °C
warmth-hot = hot, 25 °C and more
correct-title = Put a set right
correct-save = Save the correction
correct-take-back-spoken = Take this set back
correct-take-back = Hold: take this set back
correct-hold = A set that is taken back counts no more. That it was there stays in the log.
group-title-roll = Who is there?
group-title-exercise = What do they do?
group-title-names = Tap a name
group-about-roll = Call the roll once; it holds for today.
group-about-exercise = Choose it once. Each tap on a name then writes one set.
group-about-names = One tap is one set. Hold a name to take its last set back.
group-everybody = Everybody
group-who-may = To log for others on this device too, the coach gives it more athletes: on the coach’s page under Devices.
group-name-first = Your name
group-name-another = Another athlete without a phone
group-name-about = Whoever holds this phone sees what is written on it about each of you, also what hurts.
group-name-save = Add this name
group-on-roll = { $n ->
    [one] Go on with 1 athlete
   *[other] Go on with { $n } athletes
}
group-on-exercise = Go on to the names
group-to-exercise = Another exercise
group-to-roll = Who is there
group-sets = { $n ->
    [0] no set yet
    [one] 1 set
   *[other] { $n } sets
}
group-next = next: { $leg }
group-undo = Take the last set of { $name } back

## Rules

rules-title = Rules of the squad
rules-title-of = Rules that hold for { $name }
rules-about = A rule shows something to a coach. None predicts an injury, and none says that a load does no harm. Every line can be drawn elsewhere, or not at all, for a reason that is kept. Local rules and licensed practice come first.
rules-about-member = An athlete’s own line stands before the squad’s, the squad’s before the one that comes with the product. An exception for an athlete is written here with its reason; a guardian’s consent too.
rules-who-may = Only a coach’s own devices change rules.
rules-product = Comes with the product: { $line } ({ $source }).
rules-holds-until = Until { $until }; then what stood before.
rules-group-rises = Rises, new work, hard days and gaps
rules-group-hard = What counts as a hard contact
rules-group-session = Contacts of a session by level
rules-group-young = The young, and those of unknown age
rules-group-depth = Falls from a box
in-percent = %
in-weeks = weeks
in-days = days
in-hours = hours
in-energy = J/kg a leg
in-contacts = contacts
in-years = years
in-cm = cm
in-growth = cm a year
in-kg = kg
in-seconds = s

## Tests, growth, landings, limits and advice of an athlete

body-title = Tests and limits: { $name }
body-about = What is not known asks the coach before depth work; it is never taken for the better value. Low rebounds are held up by none of the tests.
body-growth = Growing { $rate } a year, from { $from } to { $to }.
body-growth-unknown = How fast the athlete grows is told by two heights, 60 days apart or more.
body-advice-about = Any new pain asks for place and side and offers to end the session. With a clinician’s advice for that place and side, an adult may go on up to the score that was advised. An advice never counts under 18 or at an unknown age, and never at a limp, pain on one bony spot or at night, swelling, giving way, a low back that hurts on arching, or pain that rises from week to week.
body-today-none = Nothing that is known here speaks against plyometric work today. Local rules come first.
body-depth-none = The tests before falls from higher boxes are written down and reach their lines.
body-over = over, or not yet
body-who-may = Only a coach’s own devices, and those that were given it, write limits and advice.
link-body = Tests, growth, landings, limits and advice
link-rules = Rules that hold for this athlete

## Clashes

clashes = { $n ->
    [one] 1 thing was written differently by two people
   *[other] { $n } things were written differently by two people
}
clash-effort = Effort of a session
clash-session = A session
clash-set = A set
clash-plan = A planned session
clash-take = A take
clash-limit = A limit
clash-jump = A jump
clash-other-training = Other training
clash-test = The result of a test
clash-growth = A body height
clash-landing-control = How landings were controlled
clash-rule = A rule
clash-advice = A clinician's advice
clash-target = A target of contact time
clash-squad = Name of the squad
clash-exercise = An exercise
clash-device = What a device may do
clash-consent = Sharing of what hurts
clash-check-in = A check-in
clash-rest = A rest day
clash-complete = How far the log is complete
clash-spoken = { $what } was written differently: { $values }
written-at = { $who }, { $when }
moment = { $day } at { $time }
device-this = this device
device-named = { $whose } ({ $short })
hurts-nothing = nothing hurts, { $day }
slept = slept { $hours } h { $minutes } min
deleted = deleted
unreadable = cannot be read here: { $why }
another-value = another value
consent-given = shared
consent-withdrawn = not shared

## Notices

line-of-product = { $source }.
line-of-squad = A line of the squad: { $reason }.
line-of-athlete = A line for this athlete: { $reason }.
spike-week-contacts-saw = { $kind }: { $now } contacts this week, { $mean } on average in the { $weeks } complete weeks before.
spike-week-contacts-rule = Shown from { $line } % of that mean and 20 contacts on, on complete weeks only.
spike-week-contacts-do = Look at what was planned; keep the next days lighter if it was not meant.
spike-week-load-saw = Session load { $now } this week, { $mean } on average in the { $weeks } complete weeks before.
spike-week-load-rule = Shown from { $line } % of that mean on, on complete weeks in which everything was rated.
spike-week-load-do = Look at what was planned; keep the next days lighter if it was not meant.
spike-hardest-contact-saw = { $kind }: the hardest contact of this week was harder than any of the { $weeks } complete weeks before. Now: { $now }. Before: { $before }.
spike-hardest-contact-rule = Shown from { $line } % of the energy of the hardest contact before.
spike-hardest-contact-do = Look at how it was done; keep such contacts few, rested, and after the easier forms.
spike-first-exposure-saw = { $exercise } on { $day }: not done in the { $weeks } weeks before.
spike-first-exposure-approach-saw = { $exercise } on { $day } with a { $approach }: not done from so far in the { $weeks } weeks before.
spike-first-exposure-rule = Shown for what was not done in { $line } weeks, or in as many as are known, four at least.
spike-first-exposure-do = Watch the first sets; few contacts, fully rested; ask how the legs are next morning.
spike-hard-days-saw = Hard contacts on { $first } and again on { $second }.
spike-hard-days-hours-saw = Hard contacts on { $first } and again on { $second }, { $hours } hours later.
spike-hard-days-rule = Shown for two days with hard contacts less than { $line } hours apart. What counts as hard is a line of its own for each kind.
spike-hard-days-do = Put an easier day between, if it was not meant.
spike-gap-saw = Jumping again on { $day }, after at least { $days } days without.
spike-gap-rule = Shown after { $line } days without plyometric contacts, all of them known.
detail-monotony = Monotony of the last 7 days
detail-monotony-note = Mean daily session load over its sample standard deviation, rest days 0 (Foster 1998). Not defined for equal days.
detail-strain = Strain of the last 7 days
detail-strain-note = The week's session load times its monotony (Foster 1998).
detail-averages = Averages of session load
detail-averages-value = { $acute } over 7 days, { $chronic } over 28 days
detail-averages-note = Exponentially weighted, begun with the first day (Williams et al. 2017).
detail-ratio = Ratio of the two, acute to chronic
detail-ratio-value = { $averages } of the averages; of sums { $coupled } with the week in the month, { $uncoupled } without
detail-ratio-early = Not enough days yet: { $days } of 28 known in a row
detail-ratio-note = A description only. A fixed or a random number under the fraction bar goes with injuries nearly as well (Impellizzeri et al. 2020, doi 10.1007/s40279-020-01378-6), so no range of it means anything here.
detail-smoothness = How smoothly the weeks went
detail-smoothness-value = { $weeks } weeks: third differences of { $course }, those of the smoothest curve between the same ends { $curve }
detail-smoothness-incomplete = A week is incomplete or not wholly rated
detail-smoothness-note = Root mean squares over session load by week. The smoothest curve is that of least jerk (Flash & Hogan 1985, value from memory); the nearer the two, the fewer jolts. A straight rise has none.
detail-hardest = { $kind }, hardest of 4 weeks
detail-hardest-value = { $n } contacts of { $line } J/kg a leg or more; the hardest fifth took { $percent } % of the energy
detail-hardest-share = the hardest fifth took { $percent } % of the energy
detail-legs = { $kind }, legs in 4 weeks
detail-legs-value = left { $left }, right { $right }
detail-incomplete = Incomplete: { $n } of 7 days are unknown or not rated
detail-not-a-week = Not 7 days yet
detail-undefined = not defined
detail-days-unknown = Incomplete: days are unknown or not rated
legs-even = Usually as many on each leg, where the work changes legs.
legs-take-off-left = Long-jump take-offs are on the left.
legs-take-off-right = Long-jump take-offs are on the right.
legs-pattern-llr = A triple jump left, left, right has two contacts on the left to one on the right.
legs-pattern-rrl = A triple jump right, right, left has two contacts on the right to one on the left.
legs-not-known = Take-off leg and hop pattern are not on the card.
spike-gap-do = Begin lower than where it ended, and let some sessions bring it back (common practice, no source).
notice-limit-saw = { $exercise } on { $day } goes against a limit: { $limit }.
notice-limit-rule = A limit holds until it ends or is lifted.
notice-limit-source = The limit itself.
notice-limit-do = Ask what was done; lift the limit only with whoever said it.
notice-pain-rising-saw = { $place }: { $now } of 10 in the last 7 days, { $before } in the 7 days before.
notice-pain-rising-rule = Pain that rises from one week to the next: stop what provokes it.
notice-pain-rising-source = After Silbernagel et al. 2007 (Achilles tendon, adults); wording ours.
notice-pain-rising-do = Have it seen by a licensed practitioner. This is no diagnosis; local rules come first.
notice-pain-high-saw = { $place }: { $now } of 10 in the last 7 days.
notice-pain-high-rule = Above 5 of 10: stop.
notice-pain-high-source = After Silbernagel et al. 2007 (Achilles tendon, adults); wording ours.
notice-pain-high-do = Have it seen by a licensed practitioner. This is no diagnosis; local rules come first.
notice-pain-young-saw = { $place }: { $now } of 10 in the last 7 days.
notice-pain-young-rule = Under 18, or of unknown age, no score of pain is taken as acceptable.
notice-pain-young-source = A rule of our own; published lines for pain were made for adults.
notice-pain-young-do = Ask where and on which side, and offer to end the session. At a limp, pain at night or on one bony spot, swelling, giving way or a low back that hurts on arching: stop, and have it seen by a licensed practitioner.
notice-pain-new-saw = { $place }: { $now } of 10 in the last 7 days, nothing of it in the 7 days before.
notice-pain-new-rule = New pain is asked about before anything else.
notice-pain-new-source = A rule of our own.
notice-pain-new-do = Ask where and on which side, and offer to end the session. At a limp, pain at night or on one bony spot, swelling, giving way or a low back that hurts on arching: stop, and have it seen by a licensed practitioner.

notice-sign-saw = Told on { $day }: { $sign }.
notice-sign-rule = This is to be seen at any score of pain: stop.
notice-sign-source = A rule of our own; licensed practice comes first.
notice-sign-do = Have it seen by a licensed practitioner. This is no diagnosis; local rules come first.

notice-kept-saw = Left the squad; the data were to be kept until { $day }.
notice-kept-rule = The date was set when the member left.
notice-kept-source = The roster.
notice-kept-do = Erase what is held, or set a later date under “Devices” if there is a reason to keep it.
notice-clocks-saw = Clocks that differ from this device's: { $clocks }.
notice-clocks-rule = Shown from ten minutes on, as it was at the last meeting.
notice-clocks-source = A line of our own, without a source.
notice-clocks-do = Set those clocks. The days of what they wrote may be wrong; nothing else depends on them.
notice-clock-rule = Shown where it differs by more than ten minutes from every device met last, or shows less than it did when this device last wrote.
notice-clock-source = A line of our own, without a source.
notice-clock-do = Set the clock of this device, then sync once more.
notice-apart-rule = What does not count is kept, with its reason.
notice-apart-source = Who was admitted, removed and given what in this squad.
notice-apart-do = Look at the reasons. What was meant can be taken in, or its device admitted.
notice-copy-rule = Shown where a book goes back, or is written on in two places.
notice-copy-source = What this device noted beside the book.
notice-copy-do = Sync with the devices that were met before.
notice-removed-rule = A coach's device, or the recovery key, removed this one.
notice-removed-source = Who was admitted and removed in this squad.
notice-removed-do = Ask the coach who removed it. What was written here can be taken in.
notice-wish-rule = A device that keeps a member's own data is asked before they go.
notice-wish-source = The coach's erasure.
notice-wish-do = Agree, or keep what is here.
notice-this-device = This device

## The board

squad = Squad
squad-empty = No athletes yet: invite a phone, or put a name on the roster.
nothing-to-look-at = Nothing stands out this week in what has arrived.
demo-note = An invented squad: every name, place and number here is made up.
apart-waiting = { $n ->
    [one] 1 entry waits for its device to be admitted.
   *[other] { $n } entries wait for their device to be admitted.
}
apart-refused = { $n ->
    [one] 1 entry does not count.
   *[other] { $n } entries do not count.
}
apart-aside = { $n ->
    [one] 1 delivery was refused and is kept aside.
   *[other] { $n } deliveries were refused and are kept aside.
}
note-landing = Landing: the speed at which the body closes on the ground along the leg, and the energy each leg takes up. A model of ours; it ranks contacts of one kind and is not a force.
note-push = Push: mean force from contact and flight times. A clip never shows the impact peak.
note-kinds = Kinds of contact are counted apart and never added up: across kinds the energy misleads.
note-unknown = A day without an entry may be rest, not logged, or not arrived. Such a week is marked incomplete, and no rise is judged on it.
note-estimate = Numbers without a time from a clip rest on the exercise's usual times, many of them estimates of ours.
note-care = Nothing here predicts an injury or calls a load harmless. Local rules and licensed practice come first.

## Devices and members

devices-title = Devices
devices-alone = This device is in no squad yet. It works alone; what it holds goes along when it joins one.
devices-read-only = Who is in the squad, as far as this device has heard. Only the coach's own devices change it.
devices-note = A device is told by the first letters of its key. Compare them with the letters on the other device before you change anything.
device-here = this device
device-key = key { $short }
device-since = In the squad since { $when }.
device-met = Last met { $when }.
device-met-ago = Last met { $n } days ago, { $when }.
device-never-met = Not met from here yet.
device-clock = Its clock was { $by } when it was last met.
device-has = { $n ->
    [one] It has 1 set written here, since { $when }.
   *[other] It has { $sets } sets written here, the last since { $when }.
}
device-in-file = { $n ->
    [one] 1 set was handed over to it as a file, { $when }; not confirmed.
   *[other] { $sets } sets were handed over to it as a file, { $when }; not confirmed.
}
device-removed = Removed from the squad.
device-late = { $n ->
    [one] 1 entry that came later is kept here and not counted.
   *[other] { $n } entries that came later are kept here and not counted.
}
do-remove = Remove …
do-take-in = Count what came late
do-readmit = Take the removal back
do-give = Give it more
link-aside = Not counted: nothing now
link-wishes = What the coach asks of this device
link-sharing = Who sees what hurts: { $name }
link-sharing-own = Who sees what hurts
link-jumps = Jumps: distances, board, start mark
link-roster = Left the squad, entered twice, or to be erased
whose-owner = The coach's device
whose-athlete = Device of { $names }
whose-assistant = An assistant coach's device
whose-medical = A medical device
whose-guardian = A guardian's device
whose-nobody = A device not admitted
whose-own = Your device
whose-other = Another athlete's device
whose-recovery = The recovery key
given-serves = Serves { $names } as well.
given-assists = Helps to coach { $names }.
given-treats = Reads what { $names } may share with medical staff.
given-guards = Guardian of { $names }.
given-limits = Writes limits of { $names }.
given-consents = Says who sees what hurts of { $names }.
given-everyone = everyone
role-owner = coach
role-assistant = assistant coach
role-athlete = athlete
role-medical = medical staff
role-guardian = guardian
member-left = Left on { $since }. No date is set until which the data are kept.
member-left-until = Left on { $since }. The data are kept until { $until }.
member-erased = The coach erased this member; this device keeps its own copy.
member-tied = Entered twice, joined as one athlete.
do-leave = Left the squad …
do-keep-until = Change the date …
do-come-back = Back in the squad
do-two-persons = They are two athletes
do-erase = Erase …
same-note = Join the two entries: their data are then shown and added up together, and whoever may see the one sees the other. It can be taken back.
leave-note = Who left is no longer on the board. The data stay until they are erased. On the date you give, the board reminds you.
remove-title = Remove from the squad: { $whose } ({ $short })?
remove-counts = What it wrote counts, as far as it has arrived here.
remove-late = What arrives later is kept and shown under “Not counted”. It does not count until you take it in.
remove-stops = The other devices hear of it at their next sync. From then on they give it nothing more.
remove-back = You can take the removal back.
remove-keeps = The device keeps what it has. Nothing is erased on it.
remove-senior = It is a coach's device too. If two coaches' devices remove each other, the one admitted first stays. The recovery key removes any of them.
remove-yes = Remove the device
confirm-no = No, back to the devices
erase-title = Erase { $name }?
erase-here = All that is held about { $name } goes from this device at once: sessions, times, limits, what hurts.
erase-staff = It goes from the other devices of coaches, assistants and medical staff at their next sync. Until then they have it.
erase-nobody-asked = No device of this member or of a guardian is known here, so none is asked.
erase-asked = { $n ->
    [one] 1 device of this member or of a guardian is asked. Whoever holds it decides, and may keep the copy.
   *[other] { $n } devices of this member or of guardians are asked. Whoever holds them decides, and may keep the copy.
}
erase-final = It cannot be taken back.
erase-copies = Backups, exports, printouts and files that were handed over. Delete them yourself. When a backup is put back on this device, what was erased here is erased again.
erase-trace = That there was a member who was erased, when and by which device. It stays in the squad's log, without a name.
erase-files-known = These files are known here. Each may still hold data of this member:
erase-files-unknown = No backup made here and no file handed over from here is known. There may be others.
erase-yes = Erase { $name }
file-backup = Backup of { $when }: { $path }
file-handed = File handed over to { $whose }, { $when }

## Clocks

clock-ahead = { $span } ahead
clock-behind = { $span } behind
clock-of = { $whose } ({ $short }) { $by }
clock-own-ahead = This device's clock is { $span } ahead of every device it met last.
clock-own-behind = This device's clock is { $span } behind every device it met last.
clock-own-back = This device's clock shows an earlier day than when it last wrote.
clock-own-means = Set the clock. Only the times that are shown depend on it.
clock-own-doubt = Set the clock. Until then every limit holds, also one whose end has passed.
span-minutes = { $n } minutes
span-hours = { $n } hours
span-days = { $n } days
span-years = { $n } years

## Not counted

apart-title = Not counted
apart-note = Nothing that arrives is dropped without a word. What does not count is kept here with its reason. It is judged again when something about it changes.
apart-no-entries = Every entry held here counts.
apart-no-refused = Nothing was refused.
apart-more = { $n ->
    [one] 1 older entry is not listed.
   *[other] { $n } older entries are not listed.
}
apart-of = { $kind }, of { $name }
apart-late = { $n ->
    [one] { $whose }: 1 entry came after it was removed.
   *[other] { $whose }: { $n } entries came after it was removed.
}
apart-kind-unknown = Something this version does not know ({ $kind })
apart-from-unknown = An unknown sender
apart-when = { $times ->
    [one] { $when }, { $bytes } bytes
   *[other] { $when }, { $bytes } bytes, { $times } times
}
fact-squad = The squad's founding or name
fact-device = What a device may do
fact-member = Card or roster
fact-exercise = An exercise
fact-consent = Who sees what hurts
fact-session = A session
fact-set = A set
fact-plan = A planned session
fact-take = A timed clip
fact-jump = A jump
fact-other-training = Other training
fact-test = The result of a test
fact-growth = A body height
fact-landing-control = How landings were controlled
fact-rule = A rule
fact-advice = A clinician's advice
fact-target = A target of contact time
fact-check-in = A check-in
fact-rest = A rest day
fact-complete = How far the log is complete
fact-limit = A limit
fact-same-person = That two entries are one athlete
fact-withdrawal = An entry taken back
fact-erasure = An erasure
why-waiting = It waits: nothing that admits its device has arrived here.
why-owner-only = Only a coach's own device writes this.
why-member-only = Only the member's own devices write this.
why-not-given = Its device was not given this.
why-wrong-scope = It speaks of someone or something that does not belong where it stands.
why-second-founding = A squad is founded once.
why-removed = Its device was removed before this arrived.
why-senior = It concerns a device that was admitted before the one that wrote it.
why-erased = The member's data were erased.
then-waiting = Sync with the device that admitted it, or invite it.
then-owner-only = If it is meant, write it on a coach's device.
then-member-only = Have the member write it.
then-not-given = If it is meant, give the device more under “Devices”. Then it counts.
then-wrong-scope = Write it anew where it belongs.
then-second-founding = Nothing to do: the squad goes on as it is.
then-removed = If it is meant, “Count what came late” counts it.
then-senior = A coach's device admitted earlier can do it, or the recovery key.
then-erased = Nothing to do: it goes with the rest.

## Sharing

sharing-title = Who sees what hurts: { $name }
sharing-about = What hurts and how the nights were is private. The member's own devices and guardians see it. Everyone else sees it only while it is shared with them.
sharing-who-may = Only the member's own devices change this, or a guardian's that was given it.
share-coach = The coach
share-assistants = Assistant coaches
share-medical = Medical staff
sharing-on = Shared
sharing-off = Not shared
sharing-disputed = Two devices say different things: not shared until one is chosen
sharing-withdrawing = When sharing stops, nothing more is sent, and what was sent is no longer shown. It stays on the devices that have it until it is erased.

## What the coach asks

wish-title = The coach asks to erase { $name } from this device
wish-asked = The coach erased what the staff holds. This device keeps a copy for its person. You decide about it.
wish-agree = If you agree, all that this device holds about { $name } goes at once, and a set that was begun and not saved. It cannot be taken back.
wish-keep = If you keep it, it stays on this device and is not sent to the staff. You can still agree later.
wish-kept = You chose to keep it.
wish-do-agree = Agree and erase
wish-do-keep = Keep it here
wish-none = Nothing is asked of this device.
here-removed = This device was removed from the squad. What it had sent by then counts. What you write now stays here; the coach's device keeps it apart and does not count it.
here-wish = The coach asks this device to erase what it keeps about { $name }. Nothing goes before you agree.
here-copy = This book was put back from an older copy, or was written on in two places. It went on in new logs; what is missing comes with the next sync from whoever has it.

## Today

only-here = { $n ->
    [one] 1 set only on this device, from { $day }
   *[other] { $n } sets only on this device, the oldest from { $day }
}
only-here-others = { $n ->
    [one] No set, but 1 other entry only on this device.
   *[other] No set, but { $n } other entries only on this device.
}
all-carried = Nothing is on this device only.
action-log-set = Log a set
action-go-on = Go on with the set that is filled in
action-check-in = Say how you are
log-set-title = Log a set
check-in-title = How you are, { $day }
check-in-score = From 0, gone, to 10, the worst you can imagine
check-in-signs = Whatever the score. If one of these is so: stop, and have it seen by a licensed practitioner.
check-in-end = You can end the session here, and nothing is lost by it. Tell the coach where it hurts and on which side.
asks-limp = Do you limp?
asks-bony-spot = Does one spot of a bone hurt when you press it?
asks-night = Does it hurt at night?
asks-swelling = Is something swollen?
asks-giving-way = Does a joint give way?
asks-on-arching = Does the low back hurt when you arch it?
check-in-shared = The coach sees this: you share it.
check-in-private = Only your own devices see this: you do not share it.

## Exchange

exchange-title = Exchange
exchange-only-here = { $n ->
    [one] 1 set only on this phone, from { $day }
   *[other] { $n } sets only on this phone, oldest { $day }
}
exchange-only-others = { $n ->
    [one] No set, but 1 other entry only on this phone
   *[other] No set, but { $n } other entries only on this phone
}
exchange-all-carried = Nothing is only on this phone
exchange-no-squad = This phone is in no squad yet. You can log all the same: what is here goes along when it joins one.
exchange-squad = In the squad { $name }.
exchange-do-sync = Sync now
exchange-do-join = Answer an invitation
exchange-do-hand-over = Hand a file over
exchange-do-take-in = Take a file in
exchange-low-battery = The battery is low or being spared. A sync can wait: nothing here is lost by waiting.
exchange-note = Nothing is sent by itself. A sync begins when you tap it, with the device that you paired with and with no other, and ends when it is done. On the network nothing says your name.
exchange-sessions = Where your sessions are
exchange-no-sessions = No session was logged in the last four weeks.
exchange-older = Older ones are only on this phone too, the oldest from { $day }.
exchange-kept-here = only on this phone
exchange-kept-file = in a file that was handed over { $when }; nobody has confirmed it
exchange-kept-coach = with the coach, confirmed { $when }
exchange-kept-device = on another device of the squad, confirmed { $when }
exchange-kept-elsewhere = on another device of the squad, which wrote it
exchange-clash = Written differently: { $what }
exchange-clash-note = Both are kept until one is chosen. The first is the one that counts meanwhile. What is not chosen stays in the log.
exchange-clash-coach = The coach chooses here.
exchange-clash-member = The member chooses here, on a device of their own.
exchange-keep = Keep “{ $value }”
exchange-devices = Other devices of the squad
exchange-before = Before you erase or change this phone
exchange-lost-sets = { $n ->
    [one] 1 set is on this phone, and no other device has confirmed it.
   *[other] { $n } sets are on this phone, and no other device has confirmed them.
}
exchange-lost-others = { $n ->
    [one] So is 1 other entry: a session, a rating, a clip’s times or the like.
   *[other] So are { $n } other entries: sessions, ratings, clips’ times and the like.
}
exchange-lost-entries = { $n ->
    [one] 1 entry is on this phone only: a session, a rating, a clip’s times or the like. No other device has confirmed it.
   *[other] { $n } entries are on this phone only: sessions, ratings, clips’ times and the like. No other device has confirmed them.
}
exchange-lost-private = { $n ->
    [one] 1 entry on how you were is private and on no other device. It goes to the coach only while you share it.
   *[other] { $n } entries on how you were are private and on no other device. They go to the coach only while you share them.
}
exchange-lost-nothing = All that is logged here is on another device too.
exchange-nothing-logged = Nothing is logged on this phone yet.
exchange-before-erase = If you erase the phone, lose it or take the app off it, these are gone: the phone’s own backup leaves them out. Sync first, and look at this screen again.
exchange-before-change = A new phone is a new device: the coach invites it for you, and it gets back what the coach has.
exchange-before-alone = As long as this phone is in no squad, what is logged here is nowhere else.
exchange-receivers = For which device?
exchange-receivers-note = Only that device can read the file, however it travels. It counts as not confirmed until the two have synced or a file came back.
exchange-no-receivers = This phone knows no other device of the squad yet.
exchange-cancel = Call it off
exchange-close = Done
exchange-share = Pass the file on
end-synced = Synced.
end-joined = This phone is in the squad now.
end-received = { $n ->
    [0] Nothing was new here.
    [one] 1 entry came in.
   *[other] { $n } entries came in.
}
end-sent = { $n ->
    [0] Nothing had to go out.
    [one] 1 entry went out.
   *[other] { $n } entries went out.
}
end-called-off = Called off. What was taken in by then stays.
end-called-off-file = Called off. No file was written.
end-nobody = There is no device to sync with yet. Answer an invitation of the coach first.
end-not-reached = The coach’s device was not reached. Both have to be on one network, and the coach’s program has to be open to it.
end-tried = Tried at { $addresses }.
end-busy = The other device is busy. Try again in a moment.
end-other-device = Another device answers there, and nothing was sent to it. If the coach has a new one, ask for an invitation.
end-refused = The two did not understand each other, and what did not hold together was put aside. What came before it stays.
end-broken = The connection broke off. What came in by then stays; the next sync goes on from there.
end-protocol = The two apps are too far apart in age. One of them needs an update.
end-other-squad = The other device belongs to another squad.
end-not-admitted = This phone is not admitted to the squad. Ask the coach for an invitation.
end-invitation-used = The invitation is not known or was used already. Ask the coach for a new one.
end-invitation-over = The invitation is over: each holds for a few minutes by the coach’s clock. Ask for a new one.
end-not-owner = Whoever invited may admit nobody any more. Ask a coach of the squad for an invitation.
end-their-book = The other device could not write. What is here stays; try again later.
end-no-invitation = That is no invitation. It begins with PITSIDE1: and is as long as the coach’s screen shows it.
end-garbled = The invitation is not whole, or was changed on the way. Copy it again from its first to its last letter.
end-has-squad = This phone belongs to another squad. One phone is in one squad.
end-demo = The invitation is of the invented squad of the demo. A phone that is yours does not mix with it.
end-full = The memory of this phone is full. What was saved before is kept; make room and try again.
end-book = This phone’s book could not be read or written. Nothing was lost by the attempt.
end-handed-over = { $n ->
    [one] A file for { $whose } is written: 1 entry.
   *[other] A file for { $whose } is written: { $entries } entries.
}
end-exported = The file with all data is written.
end-nobodys-data = This phone serves no athlete, so there are no data to pass on.
end-not-confirmed = Pass it on in any way you like. Only that device can read it. It counts as not confirmed until the two have synced or a file came back.
end-taken-in = { $n ->
    [0] The file is from { $whose }. All of it was here already.
    [one] The file is from { $whose }. 1 entry was new here.
   *[other] The file is from { $whose }. { $entries } entries were new here.
}
end-no-receiver = No file can be written for that device: it is not admitted to the squad.
end-not-written = The file could not be written. Is there room on the phone?
end-not-a-file = That is no file of this app.
end-other-receiver = The file is for another device, and only that one can read it.
end-file-not-read = The file could not be read.
end-file-damaged = The file is damaged. What came before the damage was taken in; ask for the file once more.
job-channel = Syncs and files
job-title = Sync with the squad
job-looking = Looking for the other device …
job-moved = { $moved } of { $of } entries
job-export-begins = Collecting the data …
job-export = Collecting the data: { $moved } of { $of } entries
job-clip = The clip is being read: { $percent } %
job-calling-off = Calling it off …
join-title = Join a squad
join-about = The coach’s screen shows an invitation: a pattern to scan, and the same as a text.
join-once = It admits one phone, once, for a few minutes. Whoever has it can join, so do not pass it on.
join-before = What you have logged so far goes along. What hurts stays private until you share it.
join-scan = Scan the pattern
join-scanning = Hold the phone so that the whole pattern is in the picture.
join-stop-scanning = Close the camera
join-no-camera = The camera is not available to this app. Paste the text instead, or allow the camera in the system’s settings.
join-text = The text of the invitation
join-paste = Paste
join-nothing-to-paste = There is no text to paste.
join-now = Join
join-in-squad = This phone is in a squad already. An invitation of the same squad gives it more, or a way to a new laptop of the coach.

## Jumps

jumps-title = Jumps: { $name }
jumps-write = Write attempts down
jumps-all = All jumps of this athlete
jumps-empty = No attempt at the long or triple jump is written down.
jumps-competition = competition
jumps-training = training
jumps-indoors = indoors
jumps-row-title = { $event }, attempt { $n }
jumps-strides = { $n ->
    [one] run-up of 1 stride
   *[other] run-up of { $n } strides
}
jumps-run-up = run-up of { $distance }
jumps-run-up-unknown = run-up not written down
jumps-clash = Two people wrote this attempt differently; the newest is shown until it is settled on the athlete’s page.
jumps-take-missing = Its timed clip is not here.
jumps-take-odd = Its timed clip does not show the contacts of this event.
jumps-record-allowed = the wind allows a record
jumps-record-indoors = indoors: no wind is measured
jumps-record-too-strong = no record: wind above +2.0 m/s; the distance counts
jumps-record-not-by-rule = no record: the wind was not read by the rules
jumps-record-no-gauge = no record: there was no wind gauge
jumps-record-not-said = no record: nothing is known of the wind
jumps-effective = { $by } lost at the board, { $whole } from toe to mark
jumps-effective-gain = { $by } gained over the line, { $whole } from toe to mark
jumps-effective-zone = { $whole }, measured from the toe
jumps-pit = pit { $distance } from the line
jumps-phase = { $phase } { $length } ({ $share } %)
jumps-phase-completed = the { $phase } was not measured, it is what the others leave
jumps-phases-few = { $phases }; shares need all three phases, or two of them and where the toe was
jumps-phases-contradict = The phases make { $sum }, from toe to mark it is { $whole }: one of them was misread.
jumps-phases-of-sum = shares of the phases’ sum, as it is not known where the toe was
jumps-class-hop = hop-dominated
jumps-class-jump = jump-dominated
jumps-class-balanced = balanced
jumps-class-step = the step is the longest, for which there is no class
jumps-class-near = near another class: half a centimetre misread would make it one
jumps-contact = { $what } { $value }
jumps-speed-lost = { $hop } m/s over the hop, { $step } m/s over the step: { $lost } % lost ± { $half }
jumps-speed-gained = { $hop } m/s over the hop, { $step } m/s over the step: { $lost } % gained ± { $half }
jumps-count = { $n ->
    [one] 1 attempt
   *[other] { $n } attempts
}
jumps-fouls = { $n ->
    [0] no foul
    [one] 1 foul
   *[other] { $n } fouls
}
jumps-best = Best: { $distance }, { $day }.
jumps-best-records = Best with a wind that allows a record: { $distance }, { $day }.
jumps-best-records-none = None with a wind that is known to allow a record.
jumps-best-effective = Longest from toe to mark: { $distance }, { $day }.
jumps-course = Longer than all before: { $bests }.
jumps-course-one = { $distance } on { $day }
jumps-mean = Mean of { $n } measured attempts: { $mean } ± { $half } (95 %, Student’s t); they spread by { $sd }.
jumps-over = { $over } of { $n } toes over the line ({ $share } %).
jumps-bias-behind = The mean is { $by } behind the line, ± { $half } (95 %).
jumps-bias-over = The mean is { $by } over the line, ± { $half } (95 %).
jumps-spread = The toes spread by { $sd } (standard deviation; 95 %: { $low } to { $high }).
jumps-toes-few = { $n ->
    [0] Where the toe was is not written down. From { $least } toes on, mean, spread and a shift of the start mark can be told.
    [one] 1 toe is written down. From { $least } on, mean, spread and a shift of the start mark can be told.
   *[other] { $n } toes are written down. From { $least } on, mean, spread and a shift of the start mark can be told.
}
jumps-without-start = { $n ->
    [one] 1 attempt is left out here: it has a toe, but no start mark to compare by.
   *[other] { $n } attempts are left out here: they have a toe, but no start mark to compare by.
}
jumps-fouls-without-toe = { $n ->
    [one] 1 foul is left out here: nobody read its toe. So the share over the line is told too low.
   *[other] { $n } fouls are left out here: nobody read their toes. So the share over the line is told too low.
}
jumps-move-back = { $by } back
jumps-move-forward = { $by } toward the pit
jumps-shift = For { $share } % of toes over the line, aim { $aim } behind it: move the start mark { $move }.
jumps-shift-to = That is from { $from }, the latest, to { $to }.
jumps-shift-interval = It could be anything from { $low } to { $high } (95 %).
jumps-shift-next = Mean and spread are only known from these toes: after the shift expect { $next } % of the next toes over the line, not { $share } %.
jumps-shift-few = { $n ->
    [one] 1 toe is little.
   *[other] { $n } toes are few, so the interval is wide. Move the mark by less than that, and look again after the next jumps.
}
jumps-shift-holds = It holds as long as the toe spreads as before. Whoever steers by the board in the last strides may take a shift back.
jumps-adds = { $n ->
    [one] As training: 1 attempt without a set of its own, { $contacts } among the event take-offs; { $pit } landing in the pit, counted apart.
   *[other] As training: { $n } attempts without a set of their own, { $contacts } among the event take-offs; { $pit } landings in the pit, counted apart.
}
jumps-in-sets = { $n ->
    [one] 1 attempt is in a set of that day and not counted twice.
   *[other] { $n } attempts are in sets of that day and not counted twice.
}
jumps-leg-assumed = The take-off leg is not on the card: the left one stands in (ours, no source).
jumps-note-records = Whether a record can be set is for the rules of the place. Here only the wind is looked at: read by the rules of World Athletics, up to +2.0 m/s, to the tenth above. Above that the distance counts all the same. A reading of which nobody said by what rule is taken as one by the rules: ours, no source.
jumps-note-effective = From toe to mark: the official distance, which is rounded down to the centimetre, and what was lost at the board.
jumps-note-mean = Fouls have no distance and are left out of the mean. Attempts are compared from the same run-up only, and in the wind that is picked; indoors counts as calm: ours, no source.
jumps-note-board = Every toe counts, those over the line too, as it would have been from the latest start mark. The interval of the shift is exact for toes that spread normally (noncentral t). That fewer than 10 toes are few, and 10 % where no share is picked: ours, no source.
jumps-note-phases = Classes after Hay 1992: hop- or jump-dominated from two points above the next phase on, otherwise balanced. They describe a jump and prescribe none. Phases may miss the distance from toe to mark by 4 cm before they contradict it, and half a centimetre misread may be near another class: ours, no source.
jumps-note-speed = Speed lost: length of the phase by the time from touchdown to touchdown, hop against step. Published losses between the flights themselves are of another speed. ± is 95 %, at most.
jumps-note-training = As training an attempt is one repetition of the event from the nearest run-up of the catalogue; a foul counts as jumped, a run-up not written down as a full one, and the first attempts of a day as the repetitions that were logged as sets: ours, no source. Strides of the run-up are no contacts.
jumps-wrong-fouls = A share from 0.1 to 50 percent.
jumps-wrong-wind = Metres a second from −15 to 15, as 1.3 or −0.4.
jumps-wrong-wind-indoors = Indoors no wind is measured: leave it empty.
jumps-wrong-wind-gauge = It says above that there is no gauge: leave it empty, or change that.
jumps-wrong-event = Choose long jump or triple jump.
jumps-wrong-day = A day, as 2026-11-25.
jumps-wrong-place = At most 80 characters.
jumps-wrong-choice = Choose one of those that are offered.
jumps-wrong-pit = Metres from the line to the pit, 0 to 15.
jumps-wrong-distance = Metres as 6.42, or x for a foul.
jumps-wrong-distance-long = A long jump from 0.50 to 10.00 m, or x for a foul.
jumps-wrong-distance-triple = A triple jump from 1.00 to 20.00 m, or x for a foul.
jumps-wrong-toe = Centimetres to the millimetre, as −4 behind the line or 1.5 over it.
jumps-wrong-toe-over = A toe over the line is a foul. Behind the line it has a minus.
jumps-wrong-toe-far = From −300 cm behind the line to 100 cm over it.
jumps-wrong-start = Metres before the line, 1 to 60.
jumps-wrong-run-up = 1 to 30 strides, or metres with m behind them, as 34.5 m.
jumps-wrong-attempt = A number from 1 to 99.
jumps-wrong-attempt-there = Attempt { $n } is written down already ({ $what }). Take the next number, or change that one.
jumps-wrong-phase = Metres from 0.30 to 10.00.
jumps-competition-title = Write attempts down
jumps-choose = choose
gauge-not-said = not said
gauge-from-mark = gauge, from the mark the rules name
gauge-from-start = gauge, from the start of a shorter run-up
gauge-otherwise = gauge, not by the rules
gauge-no-gauge = no gauge
line-not-said = not said
line-plane = board with a camera or laser
line-indicator = board with an indicator that takes prints
line-by-eye = board or line watched by eye
line-zone = take-off zone, from which the toe is measured
jumps-changing = Change the attempt: { $what }
jumps-hint-distance = Distance: what the tape shows; it is written down to the centimetre below. A foul is x.
jumps-hint-toe = Toe to line in centimetres: −4 is behind the line, 1.5 over it. Read it at fouls too, as well as you can.
jumps-hint-marks = Start mark and run-up stay as they were until you change them. What was not read stays empty.

## The course

own-course-title = Course
own-course-nobody = This phone serves no athlete. The athletes are on the squad’s screen.
own-course-next = There are no stages of a season here yet. What is known of what comes next: the tests before drops from higher boxes, and contact times against their targets.
own-course-no-targets = Nobody has set a target of a contact time.
own-course-no-takes = No contact was timed yet.
own-course-all = All sessions, times and notices
condition-met = Reached
condition-not-met = Not reached
condition-not-known = Not tested
condition-cannot-tell = Can’t tell
condition-not-timed = Not timed
condition-timed = { $exercise }, { $day }: { $time }.
lane-tick = { $seconds } s
lane-legend = Bars: a foot on the ground. Gaps: flight. An edge fades over its uncertainty, 95 %.
lane-target = The upright line is where a contact of its target’s length would end.

## Above the parts of a phone’s screens

heading-weeks = The last weeks
heading-hardest = Hardest
heading-all-weeks = All weeks in words
heading-fold = Fold
heading-behind = What stands behind them
heading-today = What speaks against it today
heading-limits = Limits
heading-next = Before what comes next
heading-tests = Before higher boxes
heading-targets = Targets of contact times
heading-takes = Timed contacts
heading-sessions = Sessions
heading-older = Older sessions
heading-other = Other training
heading-hurts = What hurts
heading-clashes = Written differently by two people
heading-card = What is known
heading-look-at = To look at
heading-athletes = Athletes
heading-order = In the order of
heading-event = Beside
heading-search = Name
heading-contacts = Contacts of a repetition
heading-numbers = Numbers, and what they rest on
heading-likeness = How like the events
heading-cautions = See to this
heading-source = Its usual times
heading-share = Share
heading-stop-sharing = Stop sharing
heading-members = Members
heading-at-the-desk = On the coach's laptop a device is given more, somebody is taken off the roster, and two entries of one athlete are joined.
heading-not-counted = Entries that wait or do not count
heading-refused = Refused and set aside
heading-earlier-plans = The last four weeks
heading-not-reached = Not reached by it
heading-hold = Hold the button until it is done.

## Settings

settings-title = Settings
setting-language = Language
setting-language-device = As the phone
setting-language-en = English
setting-language-de = Deutsch
setting-units = Units
setting-units-device = As the phone
setting-units-metric = Metres, centimetres, kilograms
setting-units-ussystem = Feet, inches, pounds
setting-units-about = Times, speeds and energies are told in seconds, m/s and J/kg all the same.
setting-contrast = Contrast
setting-contrast-device = As the phone
setting-contrast-sun = Black on white, for the sun
settings-private = The coach sees training, times and jumps of this phone’s athletes. What hurts is seen by whom you share it with.
settings-export-about = Everything that this phone holds about its athletes, as a JSON file that other programs can read. What hurts is in it: mind whom you give it to.
settings-export = Pass on all data …
settings-erase-about = Before this phone changes hands.
settings-erase = Erase everything here …
erase-here-title = Erase everything on this phone?
erase-here-all = Sessions, times, clips of this app, what hurts, and this device’s key go at once.
erase-here-only = { $n ->
    [one] 1 set is only on this device, from { $day }. It is lost.
   *[other] { $n } sets are only on this device, the oldest from { $day }. They are lost.
}
erase-here-squad = What the squad’s other devices have stays there. If it is to go there too, ask the coach.
erase-here-alone = This device is in no squad: nobody else has any of it.
erase-here-anew = The app then begins as a new device. To be in the squad again it needs an invitation.
erase-here-files = Files that were passed on or handed over, and clips in the phone’s own gallery. Delete those yourself.
erase-here-yes = Erase everything
erase-here-no = No, back to the settings

## What exercises are called

named-a-skip = A-skip
named-ankle-hops-low-one-leg = Ankle hops, low, one leg
named-ankle-hops-low-two-legs = Ankle hops, low, two legs
named-ankle-run = Ankle run
named-b-skip = B-skip
named-backward-running-at-speed = Backward running at speed
named-bounds-from-a-stand = Bounds from a stand
named-bounds-from-a-stand-a-tenth-of-body-mass-worn = Bounds from a stand, a tenth of body mass worn
named-bounds-off-a-platform-from-a-stand = Bounds off a platform, from a stand
named-bounds-off-a-platform-with-a-run-in-on-it = Bounds off a platform, with a run-in on it
named-bounds-over-low-boxes-onto-each = Bounds over low boxes, onto each
named-bounds-over-low-hurdles = Bounds over low hurdles
named-bounds-with-a-run-in = Bounds with a run-in
named-box-jump = Box jump
named-box-jump-landing-on-one-leg = Box jump, landing on one leg
named-countermovement-jump-and-rebound = Countermovement jump and rebound
named-drop-from-tiptoe-into-a-held-squat = Drop from tiptoe into a held squat
named-drop-jump = Drop jump
named-drop-jump-forward-one-leg = Drop jump forward, one leg
named-drop-jump-forward-two-legs = Drop jump forward, two legs
named-drop-jump-from-20-cm = Drop jump from 20 cm
named-drop-jump-from-40-cm = Drop jump from 40 cm
named-drop-jump-from-40-cm-high = Drop jump from 40 cm, high
named-drop-jump-from-40-cm-short = Drop jump from 40 cm, short
named-drop-jump-from-60-cm = Drop jump from 60 cm
named-drop-jump-from-80-cm = Drop jump from 80 cm
named-drop-jump-into-three-rebounds = Drop jump into three rebounds
named-drop-jump-onto-a-second-box = Drop jump onto a second box
named-drop-jump-over-a-hurdle = Drop jump over a hurdle
named-drop-jump-no-cue-given = Drop jump, no cue given
named-drop-jump-one-leg = Drop jump, one leg
named-drop-landing-from-60-cm-held = Drop landing from 60 cm, held
named-drop-landing-in-a-lunge-held = Drop landing in a lunge, held
named-drop-landing-off-a-forward-leap-held = Drop landing off a forward leap, held
named-drop-landing-on-one-leg-held = Drop landing on one leg, held
named-drop-landing-held = Drop landing, held
named-drop-landing-short-and-stiff = Drop landing, short and stiff
named-five-bounds-from-a-stand-into-the-sand = Five bounds from a stand into the sand
named-gallop = Gallop
named-heel-flicks = Heel flicks
named-high-hurdle-jumps-two-legs = High hurdle jumps, two legs
named-high-knees = High knees
named-hop-and-step-in-turn-from-a-stand = Hop and step in turn from a stand
named-hop-and-step-into-the-sand = Hop and step into the sand
named-hop-forward-and-hold = Hop forward and hold
named-hop-into-the-sand = Hop into the sand
named-hop-hop-step-jump-from-a-stand = Hop, hop, step, jump from a stand
named-hop-hop-step-jump-with-a-run-in = Hop, hop, step, jump with a run-in
named-hop-step-hop-step-jump-with-a-run-in = Hop, step, hop, step, jump with a run-in
named-hop-step-step-jump-from-a-stand = Hop, step, step, jump from a stand
named-hop-step-step-jump-with-a-run-in = Hop, step, step, jump with a run-in
named-hops-across-a-line-travelling-one-leg = Hops across a line, travelling, one leg
named-hops-off-a-platform-from-a-stand = Hops off a platform, from a stand
named-hops-off-a-platform-with-a-run-in-on-it = Hops off a platform, with a run-in on it
named-hurdle-hops-one-leg = Hurdle hops, one leg
named-hurdle-jumps-with-a-bounce-between = Hurdle jumps with a bounce between
named-hurdle-jumps-with-a-stop-before-each = Hurdle jumps with a stop before each
named-hurdle-jumps-two-legs = Hurdle jumps, two legs
named-jump-and-hold-two-legs = Jump and hold, two legs
named-jump-from-a-seat-onto-a-box = Jump from a seat onto a box
named-jump-off-two-legs-and-hold-on-one = Jump off two legs and hold on one
named-leap-to-the-other-leg-and-hold = Leap to the other leg and hold
named-line-hops-from-side-to-side-one-leg = Line hops from side to side, one leg
named-line-hops-from-side-to-side-two-legs = Line hops from side to side, two legs
named-long-jump-from-four-strides = Long jump from four strides
named-long-jump-full-run-up = Long jump, full run-up
named-long-jump-middle-run-up = Long jump, middle run-up
named-long-jump-short-run-up = Long jump, short run-up
named-low-hurdle-jumps-two-legs = Low hurdle jumps, two legs
named-low-box-push-offs-from-side-to-side = Low-box push-offs from side to side
named-low-box-push-offs-changing-legs = Low-box push-offs, changing legs
named-low-box-push-offs-same-leg = Low-box push-offs, same leg
named-low-box-rebound-one-leg = Low-box rebound, one leg
named-low-box-rebound-two-legs = Low-box rebound, two legs
named-one-leg-hops-from-a-stand = One-leg hops from a stand
named-one-leg-hops-over-low-hurdles-travelling = One-leg hops over low hurdles, travelling
named-one-leg-hops-with-a-run-in = One-leg hops with a run-in
named-paused-jump-one-leg = Paused jump, one leg
named-paused-split-jump = Paused split jump
named-paused-squat-jump = Paused squat jump
named-paused-squat-jump-with-a-bar-a-quarter-of-body-mass = Paused squat jump with a bar, a quarter of body mass
named-paused-squat-jump-with-a-bar-half-of-body-mass = Paused squat jump with a bar, half of body mass
named-paused-standing-long-jump = Paused standing long jump
named-pogo-travelling-forward-one-leg = Pogo travelling forward, one leg
named-pogo-travelling-forward-two-legs = Pogo travelling forward, two legs
named-pogo-with-feet-changing-front-and-back = Pogo with feet changing front and back
named-pogo-with-quarter-turns = Pogo with quarter turns
named-pogo-from-leg-to-leg = Pogo, from leg to leg
named-pogo-one-leg = Pogo, one leg
named-pogo-two-legs = Pogo, two legs
named-pogo-two-legs-a-tenth-of-body-mass-worn = Pogo, two legs, a tenth of body mass worn
named-quick-steps-from-side-to-side = Quick steps from side to side
named-rebound-jumps-one-leg = Rebound jumps, one leg
named-rebound-jumps-two-legs = Rebound jumps, two legs
named-rebound-jumps-two-legs-a-tenth-of-body-mass-worn = Rebound jumps, two legs, a tenth of body mass worn
named-repeated-jumps-from-a-deep-bend = Repeated jumps from a deep bend
named-repeated-jumps-from-a-deep-bend-with-a-bar-a-quarter-of-body-mass = Repeated jumps from a deep bend with a bar, a quarter of body mass
named-rope-jumping-one-leg = Rope jumping, one leg
named-rope-jumping-two-legs = Rope jumping, two legs
named-run-up-without-the-jump = Run-up without the jump
named-side-shuffle = Side shuffle
named-sideways-drop-jump-two-legs = Sideways drop jump, two legs
named-sideways-hurdle-hops-one-leg = Sideways hurdle hops, one leg
named-sideways-hurdle-jumps-two-legs = Sideways hurdle jumps, two legs
named-sideways-leap-and-hold = Sideways leap and hold
named-sideways-leaps-for-distance = Sideways leaps for distance
named-skater-hops = Skater hops
named-skips-for-distance = Skips for distance
named-skips-for-height = Skips for height
named-sled-start-an-eighth-of-body-mass = Sled start, an eighth of body mass
named-speed-bounds = Speed bounds
named-split-jumps-changing-legs = Split jumps, changing legs
named-sprint-strides-at-speed = Sprint strides at speed
named-stair-jumps-two-legs = Stair jumps, two legs
named-standing-long-jump = Standing long jump
named-standing-start = Standing start
named-standing-start-uphill = Standing start uphill
named-standing-triple-jump = Standing triple jump
named-step-and-jump-off-a-platform-into-the-sand = Step and jump off a platform into the sand
named-step-and-jump-off-a-platform-with-a-run-in-on-it = Step and jump off a platform, with a run-in on it
named-step-step-jump-from-a-stand = Step, step, jump from a stand
named-step-step-jump-with-a-run-in = Step, step, jump with a run-in
named-straight-leg-bounds = Straight-leg bounds
named-strides-at-three-quarters-of-top-speed = Strides at three quarters of top speed
named-strides-over-marks = Strides over marks
named-take-off-from-a-low-box-into-the-sand = Take-off from a low box into the sand
named-take-off-out-of-a-walk = Take-off out of a walk
named-take-off-out-of-one-step = Take-off out of one step
named-take-off-with-the-free-knee-held = Take-off with the free knee held
named-take-offs-every-few-strides = Take-offs every few strides
named-three-bounds-and-hold = Three bounds and hold
named-three-hops-and-hold-one-leg = Three hops and hold, one leg
named-three-two-leg-long-jumps-in-a-row = Three two-leg long jumps in a row
named-triple-jump-from-four-strides = Triple jump from four strides
named-triple-jump-full-run-up = Triple jump, full run-up
named-triple-jump-middle-run-up = Triple jump, middle run-up
named-triple-jump-short-run-up = Triple jump, short run-up
named-tuck-jumps = Tuck jumps
named-two-hops-and-a-jump-into-the-sand-short-run-in = Two hops and a jump into the sand, short run-in
named-two-leg-forward-jumps-easy = Two-leg forward jumps, easy
named-two-leg-hops-to-a-beat-2-2-a-second = Two-leg hops to a beat, 2.2 a second
named-zigzag-bounds = Zigzag bounds

## Cautions

caution-fall = High intensity: the height of the box is energy that the legs must stop. Begin low, on a firm level floor and rested; go higher only while contacts stay short and quiet. Not for beginners, and for the young only with a qualified coach. Stop at pain.
caution-event = High intensity: one leg meets the ground at speed. Warm up fully, lengthen the run-up bit by bit, check runway, board and sand first, keep the number small. For the young, with a qualified coach. Stop at pain.
caution-one-leg = High intensity: each contact of a fast series falls on one leg. Master it from a stand first, then add the run-in a few strides at a time; rest fully between repetitions. For the young, with a qualified coach. Stop at pain.
caution-young = Young, or of unknown age: two jumping days a week, not in a row; progress by skill, not by age; with a guardian's consent and a qualified coach. Local rules come first.
caution-pain = New pain, a limp, swelling, pain at night or on one bony spot: stop, and have it seen by a licensed practitioner.

## Exercises

exercises-title = Exercises
exercises-about = What the squad can do, by kind. Numbers are of a trained adult at full effort, without a stated top speed; those marked as estimates are ours. Landings are compared within one kind only.
exercises-found = { $n ->
    [0] No exercise has that in its name.
    [one] 1 exercise
   *[other] { $n } exercises
}
exercises-missing = { $n ->
    [one] The product has 1 exercise that this squad has not.
   *[other] The product has { $n } exercises that this squad has not.
}
sort-name = name
sort-landing = landing of the hardest contact, hardest first
sort-push = push, hardest first
sort-contact-time = time on the ground, shortest first
sort-like = Nearest to the event by
part-contact = time on the ground
part-one-leg = one leg
part-direction = direction
part-approach = approach speed
part-joints = bend of the joints
part-pattern = pattern of the series
like-long-jump = long jump
like-triple-jump = triple jump
like-sprint = sprint
like-contact = { $difference } s against the { $move }: { $own } s, { $ratio } times as long
like-no-contact = it never leaves the ground
like-one-leg-yes = one leg at a time, as in the event
like-one-leg-no = not on one leg throughout
like-direction = { $direction }; the event goes forward
like-approach = { $own } m/s against { $event } m/s, { $difference } m/s
joints-straight = a nearly straight leg, as in the event
joints-bent = a bent knee, more than in the event
joints-from-stand = out of a stand or a stop: the joints open from a deep bend, unlike the event
pattern-same = the legs follow each other as in the event
pattern-part = a part of it is as in the event
pattern-other = another one
like-note = Parts beside each other; there is no one number for likeness. What counts as like is a convention of ours.
exercise-landing = { $speed } m/s, { $energy } J/kg a leg
exercise-push = { $mean } BW a leg
exercise-no-push = no push: nothing is left off the ground, or a stop divides the contact
exercise-seconds = { $seconds } s
exercise-contact-label = Contact { $n }: { $what }, { $legs }
exercise-contact-again = Contacts { $n } to { $last }: { $what }, { $legs }
contact-legs-one = on one leg
contact-legs-two = on both legs
label-kind = Kind
label-direction = Direction
label-legs = Legs
label-entry = Reached by
label-box-run-in = Run-in on or to the box
label-onto = Onto
label-over = Over
label-load = Outside load
label-cue = Times are told for the cue
label-knee = Knee
label-way = Landing
label-contacts = Contacts a repetition
label-loss = Speed lost in a contact
direction-up = up and down
direction-forward = forward
direction-sideways = sideways
direction-backward = backward
legs-one = one
legs-two = both
legs-alternate = in turn
knee-stiff = nearly straight
knee-bent = bent
way-rebound = off again at once
way-held = held still
way-paused = a full stop, then the next jump
entry-standing = out of a stand
entry-walk-in = { $n ->
    [one] out of 1 walking step
   *[other] out of { $n } walking steps
}
entry-level-flight = out of a level flight of { $n } s
entry-box = off a box of { $height }
entry-onto-box = onto a box, from { $height } above it
entry-run-in = { $n ->
    [one] out of a run-in of 1 stride
   *[other] out of a run-in of { $n } strides
}
entry-run-in-distance = out of a run-in of { $distance }
approach-strides = { $n ->
    [one] 1 stride
   *[other] { $n } strides
}
load-share = { $n } % of body mass
cue-both = short and high together
share-percent = { $n } %
left-out-load = Added load lengthens contacts (by a fifth to a half in countermovement jumps with 25 to 100 % of body mass, Lake et al. 2021); the usual times are without it.
left-out-mass = The athlete's mass is not known: numbers are of body and load together.
left-out-hard = Hard ground: the impact is harder than on a track, and no number here shows it.
left-out-soft = On sand, grass or a mat contacts grow longer than these times.
left-out-knee = On a nearly straight knee the tendon at the ankle works harder than on a bent one; no number here shows it.
number-u = standard uncertainty { $u }
number-u-without = standard uncertainty { $u } from the rest; none is known of: { $list }
number-u-unknown = no uncertainty known
origin-measured = measured
origin-stated = as stated
origin-default = { $support }: { $source }
origin-above = from the numbers above
origin-usual = as the exercise says
origin-counted = counted
like-heading = { $part }, beside the { $event }
unit-second = { $n } s
unit-metre = { $n } m
unit-metre-per-second = { $n } m/s
unit-degree = { $n }°
unit-per-second = { $n } a second
unit-one = { $n }
unit-joule-per-kilogram = { $n } J/kg
unit-body-weight = { $n } BW
unit-system-weight = { $n } weights of body and load
exercise-copied = the squad's own; an estimate, copied from { $name }
exercise-new-title = A new exercise, from { $name }
exercise-edit-title = Change { $name }
after-flight = a flight to the next contact
after-pit = a flight into the sand
after-stand = a stand: the movement ends
speed-fixed = m/s, the same for everybody
speed-approach = from the run-in, not above m/s
speed-top-share = % of the top speed
choice-standing = out of a stand
choice-walk-in = out of a walk (steps)
choice-level-flight = out of a level flight (ms)
choice-box = off a box or platform (cm)
choice-onto-box = onto a box, falling from above it (cm)
choice-run-in = out of a run-in (strides)
choice-run-in-metres = out of a run-in (m)
contact-legs-same = one leg, the same again
contact-legs-other = one leg, the other one
what-contact = time on the ground
what-flight-before = flight before
what-flight-after = flight after
what-fall = fall
what-rise-before = rise of the ground up to here
what-rise-after = rise of the ground to the next contact
what-angle = the leg's angle to the ground
what-legs = legs
what-top-speed = top speed
what-tau = time constant of acceleration
what-strides = strides of the run-in
what-stride-rate = strides a second
what-stride = length of a stride
what-run-in = length of the run-in
what-last-ten = time over the last 10 m
what-top-share = share of the top speed
what-kept = share of the speed left here
what-lost = share of the speed lost here
what-run-in-speed = speed at the end of the run-in
what-speed = speed of travel at touchdown
what-speed-after = speed of travel after it
what-down-speed = downward speed at touchdown
what-up-speed = upward speed at toe-off
what-load-share = outside load as a share of body mass
what-closing-speed = closing speed along the leg
what-energy = energy that each leg takes up
what-mean-force = mean force on each leg
what-peak-force = peak force from times
what-height = height of the flight
what-reactive-strength = reactive strength

## On a phone's forms

phone-exercise = Exercise
phone-reps = Repetitions
phone-sets = Sets alike
phone-legs = Legs
phone-box = Height of the box
phone-strides = Strides of the run-in
phone-not-said = not said
phone-less = Less
phone-more = More
phone-save-set = Save the set
phone-save-check-in = Save
phone-back = Back
phone-hurting = Anything hurting?
phone-yes = Yes
phone-no = No
phone-where = Where?
phone-side = Side
phone-score = How much
phone-sleep = Slept
phone-night = { $hours } h { $minutes } min
phone-failed = That did not work.
phone-again = Try again
phone-not-saved = Not saved
phone-let-it-go = Stop trying

## Where a phone can be

place-today = Today
place-times = Times
place-course = Course
place-exchange = Exchange
place-more = More
more-group = Log for a group
more-squad = The squad
more-exercises = Exercises
more-settings = Settings

## Planned sessions

link-plans = Planned sessions
plan-progress = { $sets ->
    [one] { $done } of 1 set done
   *[other] { $done } of { $sets } sets done
}
plan-swaps = { $sets }, left and right in turn from set to set
plan-clash = Two people planned this differently. The newest is shown; on the athlete's page one of them can be kept.
plan-rest = rest { $time }
plan-rest-times = rest { $n } times the work: { $time }
plan-seconds = { $n } s
plan-minutes = { $time } min
plans-title = Planned sessions of { $name }
plans-own = Planned sessions
plans-about = What is planned stands on the athlete's own devices after the next sync, and on the day itself on the first screen.
plans-none = Nothing is planned from today on.
plan-coming = Planned { $day }: { $purpose }
plan-new-title = Plan a session
plan-change-title = Change a planned session of { $name }
plan-about = Each athlete gets a plan of their own, which can be changed alone. A set that was done otherwise is logged as it was done; the plan stays.
plan-caution = A plan is an offer, not a duty: whoever hurts, is ill or slept badly does less or stops. What a limit rules out cannot be planned, and what speaks against a set is asked again on the day.
phone-done-as-planned = Done as planned
phone-done-otherwise = Done otherwise
phone-save-otherwise = Save it as it was done
phone-hold-to-take-back = Hold to take the last set back
phone-hold-to-unlock = Hold to unlock
phone-unlock = Unlock
phone-take-back = Take the last set back
phone-lock = Lock the screen against rain
phone-rest = Rest
phone-rest-over = The rest is over.
phone-next = Next

## How the exercises that come along are done: word for word as the catalogue says it

about-a-skip = Skip forward with the thigh brought level; cue: the foot comes straight down under the hip.
about-ankle-hops-low-one-leg = Skim up and down on one foot and barely leave the floor; cue: tall, the free foot beside the ankle.
about-ankle-hops-low-two-legs = Skim up and down a hand's breadth off the floor from the ankles alone; cue: knees quiet, toes up before you land.
about-ankle-run = Roll over the ankles in tiny running steps; cue: step over the other ankle.
about-b-skip = Skip forward, bring the thigh level and let the shin swing out before the foot comes back; cue: down and back, never out and stop.
about-backward-running-at-speed = Run backward as fast as you can on a free lane; cue: reach back long, eyes ahead.
about-bounds-from-a-stand = Leap from leg to leg out of a stand and gather speed; cue: push the ground away behind you.
about-bounds-from-a-stand-a-tenth-of-body-mass-worn = Bound out of a stand in a vest of about a tenth of body mass; cue: as long as you can without sitting down.
about-bounds-off-a-platform-from-a-stand = Step off a low platform and bound on from leg to leg; cue: the first bound goes out, not up.
about-bounds-off-a-platform-with-a-run-in-on-it = Run six strides along a low platform and bound on from the ground; cue: keep the speed you bring.
about-bounds-over-low-boxes-onto-each = Bound from leg to leg along a row of low boxes, one contact on each box and one between; cue: step onto it, push off it.
about-bounds-over-low-hurdles = Bound out of a short run-in over a row of low hurdles set a bound apart; cue: rise over them with the knee, not the back.
about-bounds-with-a-run-in = Bound for distance out of a short run-in; cue: flat foot, hips running on over it.
about-box-jump = Jump onto a box, stand up, step down; cue: land as high as you took off.
about-box-jump-landing-on-one-leg = Jump onto a low box, land and hold on one leg, step down; cue: soft knee, still foot.
about-countermovement-jump-and-rebound = Jump as high as you can, rebound at once from that landing, then stand; cue: the second one as high as the first.
about-drop-from-tiptoe-into-a-held-squat = Stand tall on the toes, pull yourself down into a half squat and freeze; cue: feet flat before the hips stop.
about-drop-jump = Step off a box, rebound as high as a short contact allows, land and stand; cue: short first, then high.
about-drop-jump-forward-one-leg = Step off a low box onto one leg, rebound forward off it and stand on both; cue: stiff first, then far.
about-drop-jump-forward-two-legs = Step off a box, rebound forward as far as a short contact allows and stand; cue: lean as you land.
about-drop-jump-from-20-cm = Step off a box of 20 cm, rebound high off a short contact, land and stand; cue: short first, then high.
about-drop-jump-from-40-cm = Step off a box of 40 cm, rebound high off a short contact, land and stand; cue: short and high together.
about-drop-jump-from-40-cm-high = Step off a box of 40 cm and take the time on the ground that height needs; cue: as high as you can.
about-drop-jump-from-40-cm-short = Step off a box of 40 cm and leave the ground as soon as you can, whatever the height; cue: the shortest contact you have.
about-drop-jump-from-60-cm = Step off a box of 60 cm and rebound off a short contact, land and stand; cue: tense before you touch.
about-drop-jump-from-80-cm = Step off a box of 80 cm and rebound without the heels giving way, land and stand; cue: lower the box if the heels touch.
about-drop-jump-into-three-rebounds = Step off a box, rebound, and rebound twice more before you stand; cue: the last contact as short as the first.
about-drop-jump-no-cue-given = Step off a box and jump up your own way, land and stand; cue: none, which shows what you do by habit.
about-drop-jump-one-leg = Step off a low box onto one leg, rebound off it and stand on both; cue: no box above 30 cm.
about-drop-jump-onto-a-second-box = Step off a box, rebound onto another of the same height and stand; cue: land on it as you left the ground.
about-drop-jump-over-a-hurdle = Step off a box, rebound over a hurdle in front of it, land and stand; cue: the hurdle waits, the ground does not.
about-drop-landing-from-60-cm-held = Step off a box of 60 cm and hold the landing for two seconds; cue: take it with hips and knees, back long.
about-drop-landing-held = Step off a box and hold the landing for two seconds; cue: land so that nobody hears it.
about-drop-landing-in-a-lunge-held = Step off a low box and land with one foot ahead of the other; cue: weight on both feet, trunk tall.
about-drop-landing-off-a-forward-leap-held = Leap forward off a box and hold the landing on both feet; cue: sit back into it.
about-drop-landing-on-one-leg-held = Step off a low box and hold the landing on one leg; cue: knee above the foot, hips level.
about-drop-landing-short-and-stiff = Step off a box and stop yourself at once on nearly straight legs; cue: brace before you touch.
about-five-bounds-from-a-stand-into-the-sand = Bound five times out of a stand and land the last one in the sand; cue: each one longer than the last.
about-gallop = Travel forward with the same foot always in front; cue: the rear leg pushes, the front leg rolls on.
about-heel-flicks = Run on the forefoot and fold the heel up under the seat; cue: knee forward as the heel comes up.
about-high-hurdle-jumps-two-legs = Clear hurdles well above your own jump height with the knees drawn up; cue: up first, then over.
about-high-knees = Run on the forefoot with the thighs brought level and little travel; cue: hips high, quick to the ground.
about-hop-and-step-in-turn-from-a-stand = Hop on one leg, step to the other, hop on that one, and so on; cue: say the rhythm aloud.
about-hop-and-step-into-the-sand = Hop and step from six strides and land the step in the sand; cue: hold the step, knee high.
about-hop-forward-and-hold = Hop forward on one leg and hold each landing for two seconds; cue: quiet foot, quiet trunk.
about-hop-hop-step-jump-from-a-stand = Hop twice on one leg, step and jump into the sand out of a stand; cue: the second hop no higher than the first.
about-hop-hop-step-jump-with-a-run-in = Hop twice on one leg, step and jump into the sand out of six strides; cue: a low first hop.
about-hop-into-the-sand = Hop off the board from six strides and land in the sand on the same leg; cue: heel under the hip, then reach.
about-hop-step-hop-step-jump-with-a-run-in = Hop, step, hop on the other leg, step and jump into the sand out of six strides; cue: the trunk stays upright throughout.
about-hop-step-step-jump-from-a-stand = Hop, take two steps and jump into the sand out of a stand; cue: one even rhythm from first to last.
about-hop-step-step-jump-with-a-run-in = Hop, take two steps and jump into the sand out of six strides; cue: tall between the contacts.
about-hops-across-a-line-travelling-one-leg = Hop forward on one leg and cross a line with every hop; cue: steer with the hip, not the knee.
about-hops-off-a-platform-from-a-stand = Step off a low platform onto one leg and hop on forward; cue: reach for the ground with a firm foot.
about-hops-off-a-platform-with-a-run-in-on-it = Run four strides along a low platform, land off it on one leg and hop on; cue: run off it, don't jump off it.
about-hurdle-hops-one-leg = Clear a row of low hurdles on one leg with one contact between each; cue: free knee up and over first.
about-hurdle-jumps-two-legs = Clear a row of hurdles with one contact between each; cue: meet the ground, don't wait for it.
about-hurdle-jumps-with-a-bounce-between = Land from a hurdle, bounce once, and clear the next one; cue: the bounce stays low and fast.
about-hurdle-jumps-with-a-stop-before-each = Land from a hurdle, stop for two seconds in a half squat, and clear the next one; cue: dead still, then go.
about-jump-and-hold-two-legs = Jump up and hold the landing for two seconds; cue: knees over the toes, heels down.
about-jump-from-a-seat-onto-a-box = Sit still on a bench with the feet down, jump onto a box and step down; cue: no rocking before you go.
about-jump-off-two-legs-and-hold-on-one = Jump up off both feet and hold the landing on one; cue: the hip stays level with the other.
about-leap-to-the-other-leg-and-hold = Leap forward from one leg and hold the landing on the other; cue: land on the whole foot.
about-line-hops-from-side-to-side-one-leg = Hop to and fro over a line on one foot; cue: the knee stays above the foot both ways.
about-line-hops-from-side-to-side-two-legs = Hop to and fro over a line on both feet; cue: just clear of the line, ankles only.
about-long-jump-from-four-strides = Jump into the sand from four strides; cue: the last step flat and quick.
about-long-jump-full-run-up = Jump into the sand from the run-up of a competition; cue: run through the board and jump on the way.
about-long-jump-middle-run-up = Jump into the sand from about twelve strides; cue: build the speed, then stay tall for the last two.
about-long-jump-short-run-up = Jump into the sand from a few strides; cue: tall and flat onto the board, then up.
about-low-box-push-offs-changing-legs = Drive up off the foot on a low box and change feet in the air; cue: straight up, head over the box.
about-low-box-push-offs-from-side-to-side = Drive up off the foot on a low box and cross over to its other side; cue: up first, then across.
about-low-box-push-offs-same-leg = Keep one foot on a low box and drive yourself up off it again and again; cue: the foot on the floor only touches.
about-low-box-rebound-one-leg = Step off a low box onto one foot, bounce once and stand on both; cue: hips level as you land.
about-low-box-rebound-two-legs = Step off a box of a hand's length, bounce once from the ankles and stand; cue: toes up on the way down.
about-low-hurdle-jumps-two-legs = Skip over a row of knee-high hurdles from the ankles; cue: the same rhythm at every hurdle.
about-one-leg-hops-from-a-stand = Hop forward on one leg out of a stand; cue: the free knee swings through each time.
about-one-leg-hops-over-low-hurdles-travelling = Hop on one leg over a row of low hurdles that stand far apart; cue: the heel passes under the hip.
about-one-leg-hops-with-a-run-in = Carry the speed of a run-in through a series of hops on one leg; cue: claw back as the foot comes down.
about-paused-jump-one-leg = Stop for two seconds on a bent leg, jump up off it and land on it; cue: no dip, free leg quiet.
about-paused-split-jump = Stop for two seconds in a lunge, jump up and land in it again; cue: drive through the front heel.
about-paused-squat-jump = Stop for two seconds in a half squat, then jump; cue: no dip before you go.
about-paused-squat-jump-with-a-bar-a-quarter-of-body-mass = Stop for two seconds in a half squat under a light bar, then jump; cue: push the bar away from the floor.
about-paused-squat-jump-with-a-bar-half-of-body-mass = Stop for two seconds in a half squat under a bar of half your mass, then jump; cue: fast from the very bottom.
about-paused-standing-long-jump = Stop for two seconds in a half squat, then jump forward off both feet; cue: the arms start with the legs.
about-pogo-from-leg-to-leg = Bounce on the spot from one foot to the other; cue: land under the hip, trunk still.
about-pogo-one-leg = Bounce on the spot on one foot; cue: hips level, heel just clear of the ground.
about-pogo-travelling-forward-one-leg = Bounce forward on one foot, a foot's length at a time; cue: land on the whole forefoot, hip over it.
about-pogo-travelling-forward-two-legs = Bounce forward from both ankles, a foot's length at a time; cue: the ankles do the work, the knees stay long.
about-pogo-two-legs = Bounce on the spot from nearly straight legs; cue: a quick ankle, as if the floor were hot.
about-pogo-two-legs-a-tenth-of-body-mass-worn = Bounce from the ankles in a vest of about a tenth of body mass; cue: as quick as without it.
about-pogo-with-feet-changing-front-and-back = Bounce with one foot a little ahead and swap them in the air; cue: both feet down at one time.
about-pogo-with-quarter-turns = Bounce on both feet and turn a quarter in every flight; cue: turn from the hips, land square.
about-quick-steps-from-side-to-side = Step from foot to foot over a line as fast as you can; cue: feet fast, shoulders still.
about-rebound-jumps-one-leg = Jump for height again and again off one leg; cue: the free knee and both arms lift you.
about-rebound-jumps-two-legs = Jump for height again and again with the arms and little knee bend; cue: high, and short on the ground.
about-rebound-jumps-two-legs-a-tenth-of-body-mass-worn = Jump for height again and again in a vest of about a tenth of body mass; cue: stop the set when the contacts grow long.
about-repeated-jumps-from-a-deep-bend = Sink to a half squat in every landing and jump again without a stop; cue: one smooth turn at the bottom.
about-repeated-jumps-from-a-deep-bend-with-a-bar-a-quarter-of-body-mass = Keep a light bar on the shoulders and jump without a stop between; cue: the bar never leaves the back.
about-rope-jumping-one-leg = Turn a rope and hop over it on one foot; cue: stay on the ball of the foot.
about-rope-jumping-two-legs = Turn a rope and hop over it on both feet; cue: only as high as the rope is thick.
about-run-up-without-the-jump = Run the whole run-up past the board and do not jump; cue: the same marks, the same rhythm.
about-side-shuffle = Travel sideways with quick low steps that never cross; cue: stay low, push with the trailing foot.
about-sideways-drop-jump-two-legs = Step sideways off a low box, rebound up and stand; cue: both feet down at one time.
about-sideways-hurdle-hops-one-leg = Hop sideways on one leg over a row of very low hurdles; cue: land under the hip.
about-sideways-hurdle-jumps-two-legs = Jump sideways over a row of low hurdles with one contact between each; cue: hips travel with the feet.
about-sideways-leap-and-hold = Leap sideways from one leg and hold the landing on the other; cue: the knee stays above the foot.
about-sideways-leaps-for-distance = Leap from one leg to the other as far to the side as you can; cue: land, sink, and go back the same way.
about-skater-hops = Spring from side to side, one leg to the other; cue: push off the inside edge of the foot.
about-skips-for-distance = Skip forward and cover as much ground as you can off every push; cue: push back, then float.
about-skips-for-height = Skip forward and rise as high as you can off every push; cue: knee and opposite arm up together.
about-sled-start-an-eighth-of-body-mass = Sprint off the mark with a light sled behind; cue: the same steps as without it.
about-speed-bounds = Run with long flat bounds at most of the sprinting speed; cue: cover ground, don't climb.
about-split-jumps-changing-legs = Jump up from a lunge and land in the other one; cue: drop straight down, front heel on the ground.
about-sprint-strides-at-speed = Run at top speed out of a long build-up; cue: strike down, not out in front.
about-stair-jumps-two-legs = Jump up a flight of stairs off both feet, two steps at a time, and walk down; cue: the whole foot on the step, eyes up.
about-standing-long-jump = Swing, jump forward off both feet and stand the landing; cue: fall forward before you push.
about-standing-start = Sprint off the mark out of a stand, one foot ahead; cue: push the ground back, eyes down.
about-standing-start-uphill = Sprint off the mark up a gentle slope; cue: drive, and let the hill lift the knees.
about-standing-triple-jump = Hop, step and jump into the sand out of a stand; cue: each one longer than the last.
about-step-and-jump-off-a-platform-into-the-sand = Drop off a low platform onto one leg, step to the other and jump into the sand; cue: an active foot under a tall trunk.
about-step-and-jump-off-a-platform-with-a-run-in-on-it = Run six strides along a low platform, land off it on the step leg and jump off the other into the sand; cue: long step, then up.
about-step-step-jump-from-a-stand = Take two long steps out of a stand and jump into the sand; cue: the whole foot down, then over it.
about-step-step-jump-with-a-run-in = Take two long steps out of six strides and jump into the sand; cue: run through the first step.
about-straight-leg-bounds = Run forward on long legs with the feet swinging low in front; cue: paw the ground back from the hip.
about-strides-at-three-quarters-of-top-speed = Run relaxed and tall at about three quarters of top speed; cue: loose face, loose hands.
about-strides-over-marks = Run fast over low marks set a stride apart; cue: down between the marks, knees up over them.
about-take-off-from-a-low-box-into-the-sand = Run six strides and take off from a box of a few centimetres, for time in the air; cue: use the time, land far.
about-take-off-out-of-a-walk = Walk three brisk steps, take off upward from a flat foot and land in the sand; cue: tall, free thigh level, toe up.
about-take-off-out-of-one-step = Step onto the take-off leg out of a stand and jump up into the sand; cue: hip over the foot, free thigh level.
about-take-off-with-the-free-knee-held = Take off from six strides and keep the free thigh level until the sand; cue: freeze the take-off picture.
about-take-offs-every-few-strides = Run easily, take off upward every third or fifth stride and run on from the free leg; cue: pop up, no reaching.
about-three-bounds-and-hold = Bound three times out of a stand and hold the next landing on one leg; cue: hip, knee and foot in one line.
about-three-hops-and-hold-one-leg = Hop forward three times on one leg and hold the last landing on it; cue: stick it and count to two.
about-three-two-leg-long-jumps-in-a-row = Jump forward off both feet three times without a stop and stand the last landing; cue: feet back under you as they land.
about-triple-jump-from-four-strides = Hop, step and jump into the sand from four strides; cue: the same rhythm as from far back.
about-triple-jump-full-run-up = Hop, step and jump into the sand from the run-up of a competition; cue: off the board forward, not upward.
about-triple-jump-middle-run-up = Hop, step and jump into the sand from about twelve strides; cue: an active step, foot pulled back under you.
about-triple-jump-short-run-up = Hop, step and jump into the sand from six to eight strides; cue: a low hop keeps the speed for the jump.
about-tuck-jumps = Jump again and again on the spot and bring the knees up at the top; cue: tall at take-off, then knees.
about-two-hops-and-a-jump-into-the-sand-short-run-in = Hop twice on one leg out of a few strides and jump into the sand off the same leg; cue: keep running through the hops.
about-two-leg-forward-jumps-easy = Jump forward off both feet at half of the best distance, one after the other; cue: the same length every time.
about-two-leg-hops-to-a-beat-2-2-a-second = Hop on the spot to a metronome at 2.2 beats a second; cue: one beat, one landing.
about-zigzag-bounds = Bound forward and outward from leg to leg between two lines; cue: each push goes forward and across.

## Where numbers and lines come from: word for word as the core says it

told-source-estimate = an estimate of ours
told-source-pogo = an estimate of ours after tests of repeated maximal hops, remembered and not read (Harper, Hobbs & Moore 2011; Comyns et al. 2017)
told-source-pogo-loaded = an estimate of ours: pogo without a load, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-hops-paced = the rate is that of Hobara et al. 2011, Eur J Appl Physiol 111(9):2195–2201; how 0.455 s divide is an estimate of ours, remembered after Farley et al. 1991, J Appl Physiol 71:2127–2132
told-source-jump-quality = an estimate of ours; contact and height both belong to a jump's quality: Zushi et al. 2022, PLoS ONE 17(8):e0268339
told-source-as-drop-one-leg = an estimate of ours, as for drop jumps on one leg
told-source-rebounds-loaded = an estimate of ours: rebound jumps without a load, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-deep-loaded = an estimate of ours: the same without a bar, contact × (1 + 0.5 L) and height × (0.89 − 0.60 L) for a load L of 0.25; lines after countermovement jumps, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-counter-rebound = an estimate of ours: as the drop jump from the height of the first jump; the two agree, Xu et al. 2023, Appl Sci 13(19):10680
told-source-hurdles = an estimate of ours; contacts below 0.25 s up to 140 % of the own jump height: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-hurdles-high = an estimate of ours; contacts grow longer at 160 % of the own jump height: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-hurdles-one-leg = an estimate of ours; longer on one leg than on two: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720
told-source-between-ankle-hurdle = an estimate of ours, between ankle hops and hurdle jumps
told-source-stairs = an estimate of ours; the rise of two steps of 17 cm is in the numbers
told-source-below-drop-20 = an estimate of ours, below the drop jump from 20 cm
told-source-below-drop-one-leg = an estimate of ours, below the one-leg drop jump
told-source-drop = an estimate of ours; below 0.26 s and rising from 20 to 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-30 = an estimate of ours for 30 cm; below 0.26 s from 20 to 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-40 = an estimate of ours; below 0.25 s with this cue: Boccia et al. 2026, J Strength Cond Res 40(2):152–157; below 0.26 s: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769
told-source-drop-40-short = 0.021 s and 5.9 cm less than with the cue for both, whose 0.215 s and 0.54 s are estimates of ours: Boccia et al. 2026, J Strength Cond Res 40(2):152–157
told-source-drop-40-high = 0.049 s and 4.8 cm more than with the cue for both, whose 0.215 s and 0.54 s are estimates of ours: Boccia et al. 2026, J Strength Cond Res 40(2):152–157
told-source-drop-80 = an estimate of ours, carried on from the rows for 20 to 60 cm
told-source-drop-uncued = 0.325 s in college athletes from 45.7 cm: Sanchez et al., NSCA conference 2024; the flight is an estimate of ours
told-source-drop-one-leg = an estimate of ours; best at 30 cm, and 20 to 30 cm on one leg about as intense as 40 cm on two: Wang & Peng 2014, Int J Sports Med 35(6):522–527
told-source-as-drop-rebounds = an estimate of ours, as for drop jumps and rebound jumps
told-source-as-drop-onto = an estimate of ours, as for the drop jump; the rise onto the box is in the numbers
told-source-between-drop-hurdle = an estimate of ours, between drop jumps and hurdle jumps
told-source-side-held = an estimate of ours, with the flight of hops from side to side: Wong et al. 2012, Int J Sports Med 33(8):647–653
told-source-fall = an estimate of ours: a fall of 5 to 15 cm onto the box
told-source-landing-high = an estimate of ours; peak force grows with the square root of the height: Niu et al. 2014, BioMed Res Int 2014:126860
told-source-skips = an estimate of ours; the push of each skip alone is told, not the light step before it
told-source-gallop = an estimate of ours; the rear leg, which alone is told, carries more: Andrada et al. 2016, R Soc Open Sci 3(11):160602
told-source-standing-long = an estimate of ours: 0.45 s of upward push and 0.50 s of flight
told-source-long-in-a-row = an estimate of ours; each jump goes 0.92 to 0.95 of the best single one: Chen et al. 2015
told-source-bounds = an estimate of ours, between sprint strides (Weyand et al. 2010) and the step of a triple jump (Perttunen et al. 2000)
told-source-speed-bounds = an estimate of ours, between 0.108 s (sprint, Weyand et al. 2010) and 0.160 s (one-leg hopping, same)
told-source-straight-leg = an estimate of ours; nearer to sprinting than to bounds for distance: Mero & Komi 1994, J Appl Biomech 10(1):1–13
told-source-as-bounds = an estimate of ours, as for bounds from a stand
told-source-above-bounds-run-in = an estimate of ours, above bounds with a run-in
told-source-bounds-loaded = an estimate of ours: bounds from a stand, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-hops = flight over contact 1.04 rising to 1.43: Sarabon et al. 2022, Appl Sci 12(22):11383; the flight of 0.32 s and the speeds are estimates of ours
told-source-hops-run-in = 0.160 s and 2.71 BW in one-leg hopping at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-between-hurdle-hops = an estimate of ours, between hurdle hops and one-leg hops from a stand
told-source-as-triple-four = an estimate of ours, as for the triple jump from four strides
told-source-as-standing-triple = an estimate of ours, as for the standing triple jump
told-source-combined-run-in = an estimate of ours: times as in the triple jump from a short run-up, 4 % of the speed lost in each contact
told-source-platform = an estimate of ours, out of one-leg hops and bounds from a stand; a platform lengthens the first contact
told-source-out-of-hops = an estimate of ours, out of one-leg hops
told-source-out-of-bounds-run-in = an estimate of ours, out of bounds with a run-in
told-source-low-boxes = an estimate of ours, out of bounds from a stand; the rise onto the box and the fall from it are in the numbers
told-source-drop-forward = an estimate of ours, 0.06 s above the drop jump; longer than the vertical one: Ball & Zanetti 2012, J Strength Cond Res 26(5):1407–1412; Montoro-Bombú et al. 2024, PeerJ 12:e17026
told-source-drop-forward-one-leg = an estimate of ours, 0.06 s above the one-leg drop jump, as on two legs
told-source-skater = 0.45 s and a mean of 0.76 BW·s: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours
told-source-quick-steps = 0.23 s in quick lateral footwork and a mean force of 1.35 BW: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours
told-source-above-side-hops = an estimate of ours, above hops from side to side
told-source-above-hurdles = an estimate of ours, above hurdle jumps forward
told-source-above-drop = an estimate of ours, above the drop jump
told-source-as-hurdle-hops = an estimate of ours, as for hurdle hops forward
told-source-as-hops = an estimate of ours, as for one-leg hops from a stand
told-source-long-jump = ours for { $n } strides: 0.12 s + 0.015 s for each m/s below full speed; the angle stays as the run-up changes: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897
told-source-long-jump-full = ours: 0.12 s, between 0.127 s of one world-class man (Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418) and 0.11 s and 61 to 63° remembered after Linthorne 2008
told-source-triple-jump = ours: { $s } s above full run-ups (0.135, 0.157, 0.177 s after Perttunen et al. 2000, J Sports Sci 18:363–370); speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237
told-source-triple-jump-full = contacts after Perttunen et al. 2000, J Sports Sci 18:363–370 (0.139, 0.157, 0.177 s), the first at 0.135 s; speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; flights and angles are estimates of ours
told-source-drill = an estimate of ours, out of the short run-ups of the events
told-source-drill-raised = an estimate of ours, out of the short run-ups of the events; the raised board is not in the numbers
told-source-drill-step = an estimate of ours, out of the short run-ups of the events; speed lost in the step by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237
told-source-as-a-skip = an estimate of ours, as for A-skips
told-source-backward = 0.116 s at top backward speed: Weyand et al. 2010, J Appl Physiol 108:950–961; flight, speed and angle are estimates of ours
told-source-start = an estimate of ours after first steps of 0.166 to 0.225 s in Ciacci et al. 2017, J Sports Sci 35(13):1270–1278, as a review reports them; the later ones remembered after Salo et al. 2005
told-source-start-hill = an estimate of ours, as for the standing start with 0.01 s more on the ground; the slope is not in the numbers
told-source-start-sled = an estimate of ours: the standing start, contact × (1 + 0.7 L) and speed × (1 − 0.45 L) for a load L of 0.126; lines after Lockie et al. 2003, J Strength Cond Res 17(4):760–767, and a study of sled sprints at 20 to 40 % of body mass (PLoS ONE 2018)
told-source-sprint = 0.108 s and 2.08 BW at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-below-sprint = an estimate of ours, below sprint strides at speed
told-source-run-through = an estimate of ours: the last three strides of the run-up, as sprint strides at speed
told-source-below-standing-long = an estimate of ours, below the standing long jump with a swing
told-source-below-hurdles = an estimate of ours, below hurdle jumps with a rebound
told-source-paused-quarter = an estimate of ours: paused squat jump without a bar, height × 0.74 and landing × 1.20 as in countermovement jumps: Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-paused-half = an estimate of ours: paused squat jump without a bar, height × 0.59 and landing × 1.29, on lines between loads of 0.25 and 1 in countermovement jumps: Lake et al. 2021, J Strength Cond Res 35(1):25–32
told-source-session = Potach & Chu, Essentials of Strength Training and Conditioning (NSCA): 80–100, 100–120, 120–140 contacts (values from memory); sources disagree on session or week
told-source-youth = Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633: twice a week, from 50–60 jumps a session on (ages 5–14; seven studies of low quality)
told-source-before-depth = convention of handbooks before depth work (value from memory); never shown to be needed
told-source-line = a line of ours, no source
told-source-line-hard = a line of ours, no source: where the harder exercises of this kind begin in the catalogue
told-source-line-rise = a line of ours, no source; rises of 10 % a week are a convention too: Buist et al. 2008, Am J Sports Med 36(1):33–39, found as many injuries with it (20.8 %) as without (20.3 %)
told-source-hard-days = 48–72 h between sessions, handbooks (value from memory)
told-source-majority = the age of majority in most places; local rules come first
told-source-consent = with consent: Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633 (ages 5–14); the age is the one of majority in most places; local rules come first
told-source-heavy = over 100 kg no depth jump above 46 cm, handbooks (value from memory)
told-source-pain = after Silbernagel et al. 2007, Am J Sports Med 35(6):897–906 (made for adults with a sore Achilles tendon under treatment; wording from memory); local rules come first
told-source-sign = a rule of ours: licensed practice and local rules come first
told-source-angle = the leg's angle at touchdown, an estimate of ours
told-source-speed-lost = the speed of the run-in less what the contacts cost, an estimate of ours
told-source-speed-capped = the speed above which the exercise is not done, an estimate of ours
told-source-cued = the usual time, changed as the cue changed drop jumps from 40 cm in trained youth: Boccia et al. 2026, J Strength Cond Res 40(2):152–157; for other boxes an estimate of ours
told-source-landing = a model of ours: the speed at which the body closes on the ground along the leg, and the energy each leg must take up; it ranks contacts of one kind and is not a force
told-source-push = mean force from contact and flight times by momentum balance (Weyand et al. 2000, J Appl Physiol 89:1991–1999); the peak is that of a half sine and leaves out the impact, which can be several times as high
told-source-acceleration-strides = v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658; strides at 4.1 a second, an estimate of ours
told-source-acceleration = v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658
told-source-stride-rate = 4.1 strides a second, an estimate of ours
told-source-free-fall = constant acceleration, g = 9.81 m/s², air left out
told-source-speed-costs = speed of the run-in less what the contacts before cost: in a triple jump 8.5 and 15.1 % from flight to flight, Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; in other series a share for each contact, 4 % where nothing else is said, an estimate of ours
told-source-peak = a half sine with the same mean: Morin et al. 2005, J Appl Biomech 21:167–180; an estimate without the impact, which can be several times as high
told-source-height = Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282
told-source-reactive = Young 1995; Flanagan & Comyns 2008, Strength Cond J 30(5):32–38; with height and contact time beside it, for there is no table of norms
told-source-last-ten = the mean speed over the last ten metres stands for that at their end
told-source-timed = timed at the end of the run-in
told-source-stand-speed = as the exercise says: out of a stand speed is gained from contact to contact
told-source-top-share = as the exercise says: a share of the top speed
told-source-target-triple = mean of 7 national jumpers, full run-up: Perttunen et al. 2000, J Sports Sci 18:363–370
told-source-target-board = one world-class man, full run-up: Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418
told-source-target-sprint = sprinting at maximal speed, 0.08 to 0.11 s: value from memory
told-source-limit = the limit itself
told-source-sprint-flight = 0.108 s × (2.08 − 1); Weyand et al. 2010, J Appl Physiol 108:950–961
told-source-tau = 9.46 m/s over 6.42 m/s², rounded; di Prampero et al. 2005, J Exp Biol 208:2809–2816
told-source-top-speed = an estimate of ours for a mixed squad; state or time the athlete's own

## Formulas: word for word as the core says them

told-formula-stand = out of a stand nothing falls
told-formula-no-impact = { $formula }, without the impact
told-formula-system-weights = { $formula } weights of body and load
told-formula-costs = v_h = v·k − what it costs
told-formula-cap = v_h = the exercise's cap·k
told-formula-cap-costs = v_h = the exercise's cap·k − what it costs

## Fields of forms: word for word as the core names them

told-field-row = row { $n }: { $field }
told-field-sets = sets
told-field-reps = reps
told-field-contacts = contacts
told-field-contacts-each = contacts_per_rep
told-field-leg = leg
told-field-box = box_mm
told-field-box-said = box-mm
told-field-run-in = approach
told-field-strides = strides
told-field-load = load-g
told-field-load-added = added_load_g
told-field-last-ten = last_10_m_ms
told-field-last-ten-said = last-10-m
told-field-cue = cue
told-field-minutes = minutes
told-field-rpe = rpe
told-field-sleep = sleep
told-field-score = score
told-field-hurts = hurts
told-field-part = part
told-field-side = side
told-field-day = day
told-field-until = until
told-field-name = name
told-field-why = why
told-field-reason = reason
told-field-cut-short = cut-short
told-field-purpose = purpose
told-field-place = location
told-field-note = note
told-field-session = session
told-field-surface = surface
told-field-shoes = shoes
told-field-wetness = wetness
told-field-wind = wind
told-field-warmth = warmth
told-field-mark = mark
told-field-marks = number of marks
told-field-rate = capture rate
told-field-crop = crop
told-field-exercise = exercise
told-field-athletes = athletes
told-field-rows = rows
told-field-rest = rest

## What a field takes: word for word as the core says it

told-range-whole = a whole number from { $from } to { $to }
told-range-whole-any = a whole number
told-range-decimals = a number with at most three decimals
told-range-chars = text of { $from } to { $to } characters
told-range-chars-plain = { $text }, no control characters
told-range-mm = { $from } to { $to } mm
told-range-cm = { $from } to { $to } cm
told-range-g = { $from } to { $to } g
told-range-ms = { $from } to { $to } ms
told-range-ms-ten = { $from } to { $to } ms over ten metres
told-range-strides = { $from } to { $to } strides
told-range-contacts = { $from } to { $to } contacts
told-range-ends = { $n }, for this exercise ends there
told-range-one-leg = left, right or alternate, in an exercise on one leg
told-range-two-legs = both, in an exercise on two legs
told-range-no-box = left out, in an exercise without a box
told-range-no-run-in = left out, in an exercise without a run-in
told-range-standing = standing or left out
told-range-run-in = strides or millimetres, not both
told-range-day = a day as { $day }
told-range-day-from = a day from { $day } on
told-range-day-plan = a plan of { $day }
told-range-day-before = a day not before `from`
told-range-name = a name
told-range-why = why, in a few words
told-range-why-chars = why, in up to { $n } characters
told-range-purpose = what the session is for
told-range-minutes = minutes beside the rating
told-range-rating = a rating beside the minutes
told-range-minutes-said = beside its minutes
told-range-rating-said = beside its rating
told-range-no-sets = a day without sets: further ones are written one by one
told-range-marks = at most { $n } of one clip
told-range-rate = a rate of at least { $from } and at most { $to } frames a second
told-range-crop = parts of the picture from { $from } to { $to }
told-range-athletes = one athlete or more
told-range-rows = one exercise or more

## What was filled in, where the core says it in words

told-value-left = left
told-value-right = right
told-value-both = both
told-value-alternate = alternate
told-value-run-in = a run-in to an exercise entered by { $entry }
told-value-standing = standing
told-value-walk-in = walk-in
told-value-level-flight = level-flight
told-value-box = box
told-value-onto-box = onto-box

## What is not there: word for word as the core names it

told-missing-in-row = { $what } (row { $n })
told-missing-athlete = athlete
told-missing-athlete-here = athlete of this device
told-missing-member = member
told-missing-session = session
told-missing-session-before = earlier session
told-missing-session-planned = planned session
told-missing-set = set
told-missing-set-own = set of this athlete
told-missing-set-today = set of today
told-missing-set-planned = set that was done for a plan
told-missing-exercise = exercise
told-missing-exercise-plan = exercise of the plan
told-missing-row = row of the plan
told-missing-clip = clip on the list
told-missing-file = file
told-missing-device = device of that key
told-missing-setting = setting
told-missing-choice = open choice of that name
told-missing-target = target

## Why a device may not write: word for word as the core says it

told-reason-may-not = this device may not write this: { $why }
told-reason-owner = only the coach's own devices do
told-reason-member = only the athlete's own devices do
told-reason-scope = it does not belong there
told-reason-founding = a squad is founded once
told-reason-not-given = the coach has not given it that
told-reason-removed = it was removed from the squad
told-reason-senior = only a device senior to that one removes it, or takes its removal back
told-reason-erased = the member's data were erased
told-reason-not-admitted = it is not admitted to a squad

## What the marks on a clip cannot be: word for word as the core says it

told-mark-touchdown = touchdown
told-mark-toe-off = toe-off
told-mark-contact = contact
told-mark-flight = flight
told-mark-left = the left foot
told-mark-right = the right foot
told-mark-both = both feet
told-mark-outside = the { $event } is marked at frame { $frame }, but the clip has frames { $first } to { $last }
told-mark-first = the { $event } is marked in frame { $frame }: no frame before it shows when it happened
told-mark-reversed = for the { $event }, the last frame before ({ $before }) must be earlier than the first frame after ({ $after })
told-mark-same-time = frames { $before } and { $after } around the { $event } have the same time in the clip
told-mark-bracket = a bracket from tick { $before } to tick { $after } is reversed or empty
told-mark-order = the { $later } is not after the { $earlier }: their frames are reversed or overlap
told-mark-kinds = a { $wanted } begins with a { $from } and ends with a { $to }, not the other way round
told-mark-other-foot = the contact begins with { $on } and ends with { $off }
told-mark-take-order = event { $index } of the take ({ $event }) is earlier than the event before it
told-mark-down = event { $index } of the take: { $foot } lands while on the ground already
told-mark-not-down = event { $index } of the take: { $foot } leaves the ground without a touchdown before it
told-mark-scale = the clock or judging terms are no uncertainty: they must be finite and not negative, and a frame at least one tick long
told-mark-calibration-order = the second moment is not after the first: their frames are reversed or overlap
told-mark-calibration-coarse = the scale would be uncertain by { $n } %: measure over a longer time, or more exactly

## What a clip's reader saw: word for word as the core says it

told-clip-stored = The stored times run at { $rate } frames a second (median of { $n } steps).
told-clip-stored-one = The stored times run at { $rate } frames a second (median of { $n } step).
told-clip-no-rate = The stored times have no rate: fewer than two frames, or most frames share one time.
told-clip-edits = The edit list plays a part at another speed, so the times of one part are not those of another.
told-clip-slowed-part = The file's trailer says that a part was recorded slowed, so the times of one part are not those of another.
told-clip-real = Nothing says that it was slowed, and { $n } or more stored frames a second are no playback rate: the times are real.
told-clip-unsaid = Nothing says how many frames a second were captured: it may be a plain clip or a slowed one. The capture rate, stated by whoever filmed it, settles it; so does a ball filmed falling from a measured height, or a filmed running clock.
told-clip-interpolated = The file's trailer says that frames were interpolated: such a frame shows no moment that was filmed.
told-clip-repeated-rate = Of every { $n } frames only one holds a picture worth the name: the others may be repeated or made by a program. The camera may have taken { $rate } a second of the { $stored } that are stored. A contact cannot be timed finer than the camera saw it. This is a rule of ours, from the sizes of the frames alone.
told-clip-repeated = Of every { $n } frames only one holds a picture worth the name: the others may be repeated or made by a program. A contact cannot be timed finer than the camera saw it. This is a rule of ours, from the sizes of the frames alone.
told-clip-says = The clip's { $place } says { $rate } frames a second captured.
told-clip-says-nothing = The clip's { $place } holds no usable rate and is passed over.
told-clip-place-key = key com.android.capture.fps
told-clip-place-user = user data (smta)
told-clip-stated-same = Stated capture rate: { $rate } frames a second, as the clip says.
told-clip-stated-instead = Stated capture rate: { $rate } frames a second. It is used in place of what the clip says.
told-clip-stated = Stated capture rate: { $rate } frames a second.
told-clip-disputed = These rates contradict each other. The capture rate, stated by whoever filmed it, settles it.
told-clip-same = { $rate } captured and { $stored } stored are the same to { $n } %: the times are real.
told-clip-more-stored = { $rate } captured but { $stored } stored: more frames than were captured cannot be, so the capture rate or the times are wrong.
told-clip-between = { $rate } captured and { $stored } stored: too far apart for real times, too near for a slowed clip.
told-clip-slowed = { $rate } captured and { $stored } stored: the clip is slowed { $n } times.
told-clip-steps = The steps between the frames are too long for any clip.
told-clip-ball = A ball was let fall from { $height } m (± { $u } m standard uncertainty): √(2h/g) = { $seconds } s, without the air.
told-clip-clock = A filmed clock went on by { $seconds } s, read to { $digit } s.
told-clip-ticks = That is { $ticks } ticks of the clip, so one tick is { $ms } ms, known to ± { $share } % (standard uncertainty).
told-clip-empty = the file is empty
told-clip-none = this is no MP4 or QuickTime file: it does not begin with a box of that format
told-clip-no-video = the file has no video track

## An exercise's cue

exercise-cue = ; cue: { $cue }
cue-said-short = short
cue-said-high = high

## Why a call brought nothing, and what a person may do

failure-field-unnamed = “{ $field }”
failure-refused = { $field }: “{ $value }” cannot be. Accepted is { $range }.
failure-refused-unsaid = { $field }: “{ $value }” cannot be.
failure-empty = { $field }: nothing is filled in. Needed is { $range }.
failure-empty-unsaid = { $field }: something is missing.
failure-refused-do = Go back and change it. Nothing was saved.
failure-day-do = If today is another day, set this phone's clock.
failure-clip = This clip cannot be read: { $why }.
failure-clip-damaged = This clip cannot be read: the file is damaged, or is none that this app reads.
failure-clip-do = Choose the original of a slow-motion clip, MP4 or MOV.
failure-file = The file could not be written.
failure-file-do = See whether there is room on the phone, and try again.
failure-missing = This phone has not got { $what }, or no longer.
failure-missing-unsaid = This phone has not got what was asked for, or no longer.
failure-missing-do = Go back: the screen before shows what there is now.
failure-missing-file-do = Choose it once more.
failure-not-allowed-do = Ask your coach if you should be allowed to.
failure-full = This phone is full. What was saved before is kept; this was not saved.
failure-full-do = Make room and try again.
failure-held = Something else holds this phone's book for the moment.
failure-held-do = Wait a moment and try again.
failure-busy = It is deleted, and still in a file of the book until the next attempt: another call was reading.
failure-damaged = This phone's book is damaged, or is no book.
failure-damaged-do = Do not delete the app: what was never synced is in this book alone. Ask your coach.
failure-newer = A newer version of this app wrote the book.
failure-newer-do = Update the app. Nothing is lost.
failure-read-only = Where this phone's book is, nothing can be written.
failure-read-only-do = Restart the phone and try again.
failure-other-device = The book on this phone belongs to another device.
failure-other-device-do = Ask your coach for an invitation; what was synced comes back with it.
failure-no-squad = This phone is in no squad yet.
failure-no-squad-do = Answer an invitation of your coach first.
failure-book = This phone's book could not be read or written. Nothing was lost by the attempt.
failure-book-do = Try again; if that does not help, restart the phone.
failure-closed = The book is closed.
failure-closed-do = Close the app and open it again.
failure-inside = Something went wrong inside the app. What was saved before is kept.
failure-inside-do = Try again; if that does not help, close the app and open it again.
