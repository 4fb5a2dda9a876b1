package site

import (
	"strings"
	"testing"
	"time"

	"rowtally/internal/job"
)

var ask = []string{"about", "row", "ask_row", "3", "ask_text", "Why is <row 3> short?", "ask_name", "The Owner"}

func TestAQuestionGoesThereAndBack(t *testing.T) {
	w := quoted(t)
	w.nobody.get(farmJob+"?row=3").mustShow(t, 200, `name="ask_row"`, `value="3"`, "Row 3, in belt", "m planned", "line 1: ", "quote Q2026-0001")
	w.nobody.post(farmJob+"/questions", ask...).mustLead(t, farmJob+"?done=asked#question-1")
	p := w.nobody.get(farmJob)
	p.mustShow(t, 200, "row 3 <small>waits for an answer", "Why is <row 3> short?", "The Owner", "asks on 20 Jul 2026, 09:30", "queried")
	if strings.Contains(p.text, "<row 3>") {
		t.Error("the question is written raw")
	}
	w.contractor.get("/").mustShow(t, 200, "1 question to answer.", "The Owner asks about row 3: “Why is <row 3> short?”", `href="/jobs/1#question-1"`)
	w.contractor.get("/jobs").mustShow(t, 200, "quoted, queried")
	const path = "/jobs/1/questions/1"
	w.contractor.post(path, "text_1", "").mustRefuse(t, "text_1", "Write what you want to say.")
	w.contractor.post(path, "text_1", "", "do", "close").mustShow(t, 422, "This question waits for an answer: answer it before it is closed.")
	w.contractor.post(path, "text_1", "The dam is in its way.", "do", "answer").mustLead(t, "/jobs/1?done=answered#question-1")
	w.nobody.get(farmJob).mustShow(t, 200, "row 3 <small>answered", "The dam is in its way.", contractorName, "contractor, answers on 20 Jul 2026, 09:30")
	if p := w.contractor.get("/"); strings.Contains(p.text, "to answer") {
		t.Error("an answered question still waits on the season's page")
	}
	w.nobody.post(farmJob+"/questions/1", "do", "close", "name_1", "The Owner").mustLead(t, farmJob+"?done=closed#question-1")
	p = w.contractor.get("/jobs/1")
	p.mustShow(t, 200, "row 3 <small>closed", "for the farm, closed it on 20 Jul 2026")
	if strings.Contains(p.text, "queried") {
		t.Error("a job whose questions are closed is queried")
	}
	w.nobody.post(farmJob+"/questions/1", "do", "ask", "name_1", "The Owner", "text_1", "Which dam?").mustLead(t, farmJob+"?done=asked#question-1")
	w.contractor.get("/journal").mustShow(t, 200, "asked about J-01", "answered a question about J-01", "for Example Farm: The Owner")
	w.sound(t)
}

func TestAQuestionThatCannotBeKeptStaysTyped(t *testing.T) {
	w := quoted(t)
	for _, c := range []struct {
		name, value string // what is spoilt
		field, says string
	}{
		{"ask_text", "  ", "ask_text", "Write what you want to say."},
		{"ask_text", strings.Repeat("x", job.MostWordRunes+1), "ask_text", "1001 characters long, shorten it to 1000"},
		{"ask_name", "", "ask_name", "Type your name"},
		{"ask_name", strings.Repeat("x", job.MostNameRunes+1), "ask_name", "A name of 81 characters"},
		{"ask_row", "999", "ask_row", "There is no row 999, enter a number from 1 to"},
		{"ask_row", "three", "ask_row", "is not a whole number"},
		{"ask_row", "", "ask_row", "Enter the number of the row"},
		{"about", "paper 99 line 0", "about", "Choose one of the list."},
		{"about", "paper 0 line 0", "about", "Row 3 is entered below"},
	} {
		p := w.nobody.post(farmJob+"/questions", with(ask, c.name, c.value)...)
		p.mustRefuse(t, c.field, c.says)
		if c.name != "ask_name" {
			p.mustShow(t, 422, `value="The Owner"`)
		}
	}
	if facts := w.facts(t, 1); len(facts.Questions) != 0 {
		t.Errorf("%d questions are kept", len(facts.Questions))
	}
	w.nobody.get(farmJob+"/questions").mustShow(t, 200, "A new question")
	w.nobody.get(farmJob+"?row=999").mustRefuse(t, "row", "There is no row 999")
}

func TestAQuestionTwiceIsOneQuestion(t *testing.T) {
	w := quoted(t)
	for range 2 {
		w.nobody.post(farmJob+"/questions", with(ask, "key", "k1")...).mustLead(t, farmJob+"?done=asked#question-1")
	}
	if facts := w.facts(t, 1); len(facts.Questions) != 1 || len(facts.Questions[0].Words) != 1 || facts.Questions[0].Row != 3 {
		t.Errorf("the questions are %+v", facts.Questions)
	}
}

// Whoever holds the link may ask about its own farm's jobs, and not without end.
func TestWhoMayAskAndHowOften(t *testing.T) {
	w := quoted(t)
	w.nobody.post("/farm/"+farmToken[1:]+"/jobs/1/questions", ask...).mustShow(t, 404)
	w.nobody.post(farmJob+"/questions/1", "text_1", "x", "name_1", "x").mustShow(t, 404)
	w.contractor.post("/jobs/1/questions/1", "text_1", "x").mustShow(t, 404)
	foreign := w.nobody.form(farmJob+"/questions", ask...)
	foreign.Header.Set("Origin", "https://elsewhere.test")
	w.nobody.send(foreign).mustShow(t, 403, "not sent from Rowtally")
	for i := range job.MostWordsAnHour {
		*w.now = moment.Add(time.Duration(i) * time.Minute)
		w.nobody.post(farmJob+"/questions", ask...).mustShow(t, 303)
	}
	p := w.nobody.post(farmJob+"/questions", ask...)
	p.mustShow(t, 422, "12 questions and replies came by this farm's link within the hour", "Wait until 10:30 on 20 Jul 2026", `value="The Owner"`)
	*w.now = moment.Add(61 * time.Minute)
	w.nobody.post(farmJob+"/questions", ask...).mustLead(t, farmJob+"?done=asked#question-13")
}

func TestAQuestionMayBeAboutALineOfAPaper(t *testing.T) {
	w := quoted(t)
	line := with(with(ask, "about", "paper 1 line 1"), "ask_row", "")
	w.nobody.post(farmJob+"/questions", line...).mustLead(t, farmJob+"?done=asked#question-1")
	facts := w.facts(t, 1)
	if q := facts.Questions[0]; q.PaperID != 1 || q.Line != 1 || q.Row != 0 {
		t.Errorf("the question is %+v", q)
	}
	w.contractor.get("/jobs/1").mustShow(t, 200, "quote Q2026-0001, line 1: ")
}
