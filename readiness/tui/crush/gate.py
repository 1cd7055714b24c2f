"""Who comes into the crush: the race of the day on the screen, kept as it is changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from readiness.crush import race as races
from readiness.crush.race import Race
from readiness.trade.words import plural
from readiness.tui.shared.view import Team, in_team, team_words, teams

if TYPE_CHECKING:
    from readiness.book.drafts import Drafts
    from readiness.tui.crush.screen import CrushScreen


class Gate:
    """The race of a Crush screen. ``first``: the bull to begin with, wherever he stands."""

    def __init__(self, screen: CrushScreen, team: Team, first: str | None) -> None:
        self._screen = screen
        self._first = first
        self._drafts: Drafts | None = None
        self.team = team
        self.race = Race()

    def open(self, drafts: Drafts | None) -> None:
        """Who is expected today: asked first where bulls of several farms are."""
        self._drafts = drafts
        screen = self._screen
        assert screen.sheet is not None
        farms = races.farms_due(screen.sheet.board, screen.handled)
        if self._first is None and self.team == Team() and len(farms) > 1:
            self._which_farm(farms)
        else:
            self._line_up()

    def _which_farm(self, farms: list[str]) -> None:
        from readiness.tui.shared.dialogs import Choice, Choose

        choices = [Choice(farm or "the farm without a name") for farm in farms]
        choices.append(Choice("every farm"))

        def chosen(at: int | None) -> None:
            if at is not None and at < len(farms):
                self.team = Team(farms[at])
            self._line_up()

        dialog = Choose("At which farm are you?", choices, self._screen.tui.glyphs)
        self._screen.app.push_screen(dialog, chosen)
        # From this screen's own queue: of a key the dialog sends itself, its bindings hear nothing.
        dialog.call_after_refresh(self._screen.call_later, self._screen.errands.hand_on)

    def _line_up(self) -> None:
        self.race = self._kept()
        self.race = self.race.join(self._expected())
        if self._first is not None:
            self.race = self.race.pick(self._first)
        self._screen.lined_up()

    def _kept(self) -> Race:
        """Today's race as it was left: the bulls in view that are still to come."""
        kept = self._drafts.race() if self._drafts is not None else None
        if kept is None or kept.day != self._screen.today.isoformat():
            return Race()
        bulls = self._screen.bulls
        still = [
            key
            for key in kept.keys
            if key in bulls
            and key not in self._screen.handled
            and in_team(bulls[key].farm, bulls[key].group, self.team)
        ]
        return Race(tuple(still), kept.dropped)

    def _expected(self) -> list[str]:
        screen = self._screen
        bulls = [b for b in screen.bulls.values() if in_team(b.farm, b.group, self.team)]
        found = races.expected(bulls, screen.today.toordinal(), screen.handled)
        return [key for key in found if key not in self.race.out]

    def refresh(self) -> None:
        """After the book changed: without the bulls that are gone, with those newly expected."""
        bulls = self._screen.bulls
        gone = [key for key in self.race.keys if key not in bulls]
        self.race = self.race.without(gone).join(self._expected())

    def change(self, race: Race) -> None:
        """The race as it is now, kept."""
        self.race = race
        if self._drafts is not None and not self._screen.desk.readonly:
            self._drafts.keep_race(self._screen.today.isoformat(), race.keys, race.out)

    def gather(self) -> None:
        """Ask for a group or a farm to be let in, whether anything is due or not."""
        from readiness.tui.shared.dialogs import Choice, Choose

        screen = self._screen
        if screen.sheet is None:
            return
        found = teams(screen.sheet.board)
        choices = [Choice("every bull"), *(Choice(team_words(team)) for team in found)]

        def chosen(at: int | None) -> None:
            if at is not None:
                self._let_in(Team() if at == 0 else found[at - 1])

        screen.app.push_screen(Choose("Whom to let in?", choices, screen.tui.glyphs), chosen)

    def _let_in(self, team: Team) -> None:
        screen = self._screen
        keys = [b.key for b in screen.bulls.values() if in_team(b.farm, b.group, team)]
        before = len(self.race.keys)
        self.change(self.race.join(key for key in keys if key not in screen.handled))
        screen.say(f"{plural(len(self.race.keys) - before, 'bull')} more in the race.")
        if screen.card is None:
            screen.turn(self.race.first)
        else:
            screen.paint.all()
