"""Routes of one's own account: the pass phrase, a one-time code for a lost one, the signed-in devices."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import accounts, classes, devices, pass_phrase_codes
from app.web import current
from app.web.access import Rule, access
from app.web.auth import blueprint
from app.web.auth.forms import CodeForm, PassPhraseForm
from app.web.auth.pages import CodePage, MadePhrasePage, PassPhrasePage
from app.web.forms import SendForm


def kind_of_device() -> str:
    """As the browser calls it, in a word: enough to know one's own devices by, and nothing to trace one."""
    called = request.headers.get("User-Agent", "")
    if "Tablet" in called or "iPad" in called:
        return "tablet"
    return "phone" if "Mobi" in called else "computer"


@blueprint.get("/sign-in/code")
@access(Rule.ANYONE)
def one_time_code() -> ResponseReturnValue:
    form = CodeForm(data={"sign_in_name": request.args.get("name", "")})
    return render_template("auth/one_time_code.html", page=CodePage(form))


@blueprint.post("/sign-in/code")
@access(Rule.ANYONE)
def use_one_time_code() -> ResponseReturnValue:
    form = CodeForm(request.form)
    if form.validate():
        with form.shows_refusals():
            new = pass_phrase_codes.use_code(
                current.database(),
                sign_in_name=form.sign_in_name.data,
                code=form.code.data,
                pass_phrase=form.pass_phrase.data or None,
                now=current.now(),
                device=kind_of_device(),
                in_place_of=current.token(),
            )
            current.remember_sign_in(new.signed_in)
            if new.made:
                page = MadePhrasePage(new.signed_in.person.display_name, new.made)
                return render_template("auth/made_phrase.html", page=page)
            flash("Your new pass phrase is set.")
            return redirect(url_for("auth.home"), 303)
    return render_template("auth/one_time_code.html", page=CodePage(form)), form.status


@blueprint.get("/pass-phrase")
@access(Rule.SIGNED_IN)
def pass_phrase() -> ResponseReturnValue:
    return render_template("auth/pass_phrase.html", page=_account_page(PassPhraseForm()))


@blueprint.post("/pass-phrase")
@access(Rule.SIGNED_IN)
def change_pass_phrase() -> ResponseReturnValue:
    form = PassPhraseForm(request.form)
    if form.validate():
        with form.shows_refusals():
            accounts.change_pass_phrase(
                current.database(),
                person=current.someone(),
                current_pass_phrase=form.current_pass_phrase.data,
                pass_phrase=form.pass_phrase.data,
                token=current.token(),
                now=current.now(),
            )
            flash("Your pass phrase is changed.")
            return redirect(url_for("auth.home"), 303)
    return render_template("auth/pass_phrase.html", page=_account_page(form)), form.status


@blueprint.post("/devices/<int:number>/end")
@access(Rule.SIGNED_IN)
def end_device(number: int) -> ResponseReturnValue:
    """Sign out one of one's own devices; this one goes through signing out."""
    form = SendForm(request.form)
    if form.validate():
        devices.end_device(current.database(), person=current.someone(), number=number, now=current.now())
        flash("That device is signed out.")
    else:
        flash(form.stale_message, "error")
    return redirect(url_for("auth.pass_phrase"), 303)


def _account_page(form: PassPhraseForm) -> PassPhrasePage:
    person = current.someone()
    if person.role == "instructor":
        rows = classes.classes_of(current.database(), instructor=person)
    else:
        rows = classes.classes_of_student(current.database(), student=person)
    return PassPhrasePage(
        form,
        person.sign_in_name,
        devices.devices_of(current.database(), person=person, token=current.token(), now=current.now()),
        SendForm(),
        rows[0].time_zone if rows else "UTC",
    )
