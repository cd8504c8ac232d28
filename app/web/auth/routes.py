"""Routes of signing in and out."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import accounts
from app.web import current
from app.web.access import Rule, access, own_path
from app.web.auth import blueprint
from app.web.auth.account import kind_of_device
from app.web.auth.forms import SetupForm, SignInForm
from app.web.auth.pages import AboutPage, SetupPage, SignInPage
from app.web.errors import answer
from app.web.forms import SendForm

HOMES = {"instructor": "teaching.classes", "student": "labs.home"}


@blueprint.get("/")
@access(Rule.ANYONE)
def home() -> ResponseReturnValue:
    """To the place where this person's work begins."""
    person = current.person()
    return redirect(url_for(HOMES[person.role] if person else "auth.sign_in"), 303)


@blueprint.get("/sign-in")
@access(Rule.ANYONE)
def sign_in() -> ResponseReturnValue:
    """The sign-in page; a card's QR code fills in the name."""
    if current.person():
        return redirect(own_path(request.args.get("next")) or url_for("auth.home"), 303)
    form = SignInForm(data={"sign_in_name": request.args.get("name", "")})
    return render_template("auth/sign_in.html", page=_sign_in_page(form))


@blueprint.post("/sign-in")
@access(Rule.ANYONE)
def sign_in_now() -> ResponseReturnValue:
    form = SignInForm(request.form)
    if form.validate():
        with form.shows_refusals():
            signed_in = accounts.sign_in(
                current.database(),
                sign_in_name=form.sign_in_name.data,
                pass_phrase=form.pass_phrase.data,
                now=current.now(),
                device=kind_of_device(),
                in_place_of=current.token(),
            )
            current.remember_sign_in(signed_in)
            return redirect(own_path(request.args.get("next")) or url_for("auth.home"), 303)
    return render_template("auth/sign_in.html", page=_sign_in_page(form)), form.status


def _sign_in_page(form: SignInForm) -> SignInPage:
    wanted = own_path(request.args.get("next"))
    return SignInPage(form, url_for("auth.sign_in_now", next=wanted), request.is_secure)


@blueprint.post("/sign-out")
@access(Rule.ANYONE)
def sign_out() -> ResponseReturnValue:
    if current.person() and not SendForm(request.form).validate():
        return answer(
            400, "This page had been open too long. Press “Sign out” again, at the top of this one."
        )
    current.forget_sign_in()
    return redirect(url_for("auth.sign_in"), 303)


@blueprint.get("/setup/<token>")
@access(Rule.ANYONE)
def setup(token: str) -> ResponseReturnValue:
    """The first instructor's own page, behind the link that the server prints once."""
    if not accounts.setup_link_is_valid(current.database(), link_token=token, now=current.now()):
        return answer(
            404, "This set-up link has been used or is too old. Start the server again for a new one."
        )
    return render_template("auth/setup.html", page=_setup_page(SetupForm(), token))


@blueprint.post("/setup/<token>")
@access(Rule.ANYONE)
def setup_now(token: str) -> ResponseReturnValue:
    form = SetupForm(request.form)
    if form.validate():
        with form.shows_refusals():
            current.remember_sign_in(
                accounts.make_first_instructor(
                    current.database(),
                    link_token=token,
                    display_name=form.display_name.data,
                    sign_in_name=form.sign_in_name.data,
                    pass_phrase=form.pass_phrase.data,
                    now=current.now(),
                )
            )
            flash("Your account is ready. Make your first class.")
            return redirect(url_for("auth.home"), 303)
    return render_template("auth/setup.html", page=_setup_page(form, token)), form.status


def _setup_page(form: SetupForm, token: str) -> SetupPage:
    return SetupPage(form, url_for("auth.setup_now", token=token))


@blueprint.get("/about")
@access(Rule.ANYONE)
def about() -> ResponseReturnValue:
    """What a server without TLS can't give, said on one page."""
    return render_template("auth/about.html", page=AboutPage(request.is_secure))
