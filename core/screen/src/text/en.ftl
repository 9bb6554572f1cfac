# English. The words of every screen; numbers and days are filled in.

## Days

day = { $weekday } { $day } { $month }
today = today
yesterday = yesterday
weekday-1 = Mon
weekday-2 = Tue
weekday-3 = Wed
weekday-4 = Thu
weekday-5 = Fri
weekday-6 = Sat
weekday-7 = Sun
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
card-name = Name
card-born = Born
card-level = Level
card-take-off-leg = Take-off leg
card-hop-pattern = Hop pattern
card-mass = Body mass
card-sprint = Sprint
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
run-in-metres = run-in of { $metres } m
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
take-rendered = A drawn clip, not a filmed one.
take-refused = No times: { $why }
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

## Clashes

clashes = { $n ->
    [one] 1 thing was written differently by two people
   *[other] { $n } things were written differently by two people
}
clash-effort = Effort of a session
clash-session = A session
clash-set = A set
clash-take = A take
clash-limit = A limit
clash-squad = Name of the squad
clash-exercise = An exercise
clash-device = What a device may do
clash-consent = Sharing of what hurts
clash-check-in = A check-in
clash-rest = A rest day
clash-complete = How far the log is complete
clash-spoken = { $what } was written differently: { $values }
written = { $who }, { $day } at { $time }
device-this = this device
device-owner = a coach's device ({ $short })
device-athlete = an athlete's device ({ $short })
device-unknown = a device not admitted ({ $short })
deleted = deleted
unreadable = cannot be read here: { $why }
another-value = another value
consent-given = shared
consent-withdrawn = not shared

## Notices

notice-rise-saw = { $kind }: { $now } contacts this week, { $mean } on average in the { $weeks } complete weeks before.
notice-rise-rule = Shown from 25 % above that mean and 20 contacts on, on complete weeks only.
notice-rise-source = A line of our own, without a source; a convention like every such line.
notice-rise-do = Look at what was planned; keep the next days lighter if it was not meant.
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
    [one] 1 entry does not count: its device may not write it.
   *[other] { $n } entries do not count: their device may not write them.
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

## Today

only-here = { $n ->
    [one] 1 set only on this device, from { $day }
   *[other] { $n } sets only on this device, the oldest from { $day }
}
all-carried = Nothing is on this device only.
action-log-set = Log a set
action-go-on = Go on with the set that is filled in
action-check-in = Say how you are
log-set-title = Log a set
check-in-title = How you are, { $day }
check-in-score = From 0, gone, to 10, the worst you can imagine
check-in-shared = The coach sees this: you share it.
check-in-private = Only your own devices see this: you do not share it.

## Cautions

caution-fall = High intensity: the height of the box is energy that the legs must stop. Begin low, on a firm level floor and rested; go higher only while contacts stay short and quiet. Not for beginners, and for the young only with a qualified coach. Stop at pain.
caution-event = High intensity: one leg meets the ground at speed. Warm up fully, lengthen the run-up bit by bit, check runway, board and sand first, keep the number small. For the young, with a qualified coach. Stop at pain.
caution-one-leg = High intensity: each contact of a fast series falls on one leg. Master it from a stand first, then add the run-in a few strides at a time; rest fully between repetitions. For the young, with a qualified coach. Stop at pain.
caution-young = Young, or of unknown age: two jumping days a week, not in a row; progress by skill, not by age; with a guardian's consent and a qualified coach. Local rules come first.
caution-pain = New pain, a limp, swelling, pain at night or on one bony spot: stop, and have it seen by a licensed practitioner.

## Devices, and what is held apart

devices = Devices
device-this = this one
device-removed = removed from the squad
device-met = last met { $at }
device-clock = its clock is { $by }
role-coach = coach
role-athlete = of { $who }
role-assistant = assistant coach for { $who }
role-medical = medical staff for { $who }
role-guardian = guardian of { $who }
everyone = everyone
scope-squad = the squad
scope-staff = the staff
uncounted-entry = { $kind } of { $whose }, by device { $device }, { $at }
refused-piece = { $bytes } bytes from device { $device }, { $at }{ $times ->
    [one] {""}
   *[other] , { $times } times
}
why-waiting = It waits until its device is known to be admitted.
why-owner-only = Only a coach's own device writes this.
why-member-only = Only a device of this athlete writes this.
why-not-given = Its device was not given that.
why-wrong-scope = It does not belong where it stands.
why-second-founding = A squad is founded once.
why-removed = It was written after its device was removed. A coach can take it in.
why-senior = The other device is senior to the one that wrote it.
why-erased = The athlete's data were erased.
clock-minutes = { $n ->
    [one] 1 minute
   *[other] { $n } minutes
}
clock-hours = { $n ->
    [one] 1 hour
   *[other] { $n } hours
}
clock-days = { $n ->
    [one] 1 day
   *[other] { $n } days
}
clock-ahead = { $amount } ahead
clock-behind = { $amount } behind
notice-removed = This device was removed from the squad. What you log stays here; the coach's device keeps it apart and does not count it.
notice-copy = This book was put back from an older copy, or written on in two places. It went on in new logs; what is missing comes with the next sync from whoever has it.
notice-erase = The coach asks this device to let go of what it keeps of { $who }. Nothing goes before you agree.
notice-clock = This device's clock is { $by }, compared with every device it met last. Only what is shown depends on it, and every limit holds until it is right.
