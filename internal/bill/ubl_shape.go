package bill

import "encoding/xml"

// The elements of a UBL 2.1 invoice and credit note that are written, in the order that the
// schema fixes (OASIS UBL 2.1, 4 Nov 2013, UBL-Invoice-2.1.xsd and UBL-CreditNote-2.1.xsd).
// The two share all but their root, their type code, the due day and the name of a line.

const (
	invoiceSpace    = "urn:oasis:names:specification:ubl:schema:xsd:Invoice-2"
	creditNoteSpace = "urn:oasis:names:specification:ubl:schema:xsd:CreditNote-2"
	aggregateSpace  = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
	basicSpace      = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"
)

type ublDocument struct {
	XMLName       xml.Name
	Space         string `xml:"xmlns,attr"`
	Cac           string `xml:"xmlns:cac,attr"`
	Cbc           string `xml:"xmlns:cbc,attr"`
	Version       string `xml:"cbc:UBLVersionID"`
	Customization string `xml:"cbc:CustomizationID,omitempty"`
	Profile       string `xml:"cbc:ProfileID,omitempty"`
	ID            string `xml:"cbc:ID"`
	IssueDate     string `xml:"cbc:IssueDate"`
	DueDate       string `xml:"cbc:DueDate,omitempty"`
	InvoiceType   string `xml:"cbc:InvoiceTypeCode,omitempty"`
	CreditType    string `xml:"cbc:CreditNoteTypeCode,omitempty"`
	Note          string `xml:"cbc:Note,omitempty"`
	Currency      string `xml:"cbc:DocumentCurrencyCode"`

	Billing  *ublBilling `xml:"cac:BillingReference"`
	Supplier ublTrader   `xml:"cac:AccountingSupplierParty"`
	Customer ublTrader   `xml:"cac:AccountingCustomerParty"`
	Means    *ublMeans   `xml:"cac:PaymentMeans"`
	Terms    *ublTerms   `xml:"cac:PaymentTerms"`
	Extras   []ublExtra  `xml:"cac:AllowanceCharge"`
	Tax      ublTax      `xml:"cac:TaxTotal"`
	Sums     ublSums     `xml:"cac:LegalMonetaryTotal"`
	Lines    []ublLine   `xml:"cac:InvoiceLine"`
	Credits  []ublLine   `xml:"cac:CreditNoteLine"`

	whole bool // a price is for the whole quantity of its line
}

type ublBilling struct {
	ID        string `xml:"cac:InvoiceDocumentReference>cbc:ID"`
	IssueDate string `xml:"cac:InvoiceDocumentReference>cbc:IssueDate,omitempty"`
}

type ublTrader struct {
	Party ublParty `xml:"cac:Party"`
}

// ublNumber is a text with the scheme or unit that it belongs to.
type ublNumber struct {
	Scheme string `xml:"schemeID,attr,omitempty"`
	Unit   string `xml:"unitCode,attr,omitempty"`
	Text   string `xml:",chardata"`
}

type ublAmount struct {
	Currency string `xml:"currencyID,attr"`
	Text     string `xml:",chardata"`
}

type ublParty struct {
	Endpoint *ublNumber  `xml:"cbc:EndpointID"`
	Name     string      `xml:"cac:PartyName>cbc:Name"`
	Address  ublAddress  `xml:"cac:PostalAddress"`
	Tax      *ublTaxed   `xml:"cac:PartyTaxScheme"`
	Legal    ublLegal    `xml:"cac:PartyLegalEntity"`
	Contact  *ublContact `xml:"cac:Contact"`
}

type ublAddress struct {
	Street  string    `xml:"cbc:StreetName,omitempty"`
	Lines   []ublText `xml:"cac:AddressLine"`
	Country *ublText  `xml:"cac:Country"`
}

// ublText is a line of an address, or a country by its code.
type ublText struct {
	Line string `xml:"cbc:Line,omitempty"`
	Code string `xml:"cbc:IdentificationCode,omitempty"`
}

type ublTaxed struct {
	CompanyID string `xml:"cbc:CompanyID"`
	Scheme    string `xml:"cac:TaxScheme>cbc:ID"`
}

type ublLegal struct {
	Name      string     `xml:"cbc:RegistrationName"`
	CompanyID *ublNumber `xml:"cbc:CompanyID"`
}

type ublContact struct {
	Phone string `xml:"cbc:Telephone,omitempty"`
	Email string `xml:"cbc:ElectronicMail,omitempty"`
}

type ublMeans struct {
	Code        string      `xml:"cbc:PaymentMeansCode"`
	Instruction string      `xml:"cbc:InstructionNote,omitempty"`
	PaymentID   string      `xml:"cbc:PaymentID"`
	Account     *ublAccount `xml:"cac:PayeeFinancialAccount"`
}

type ublAccount struct {
	ID     string `xml:"cbc:ID"`
	Name   string `xml:"cbc:Name"`
	Branch string `xml:"cac:FinancialInstitutionBranch>cbc:ID"`
}

type ublTerms struct {
	Note string `xml:"cbc:Note"`
}

type ublExtra struct {
	Charge   bool        `xml:"cbc:ChargeIndicator"`
	Reason   string      `xml:"cbc:AllowanceChargeReason"`
	Amount   ublAmount   `xml:"cbc:Amount"`
	Category ublCategory `xml:"cac:TaxCategory"`
}

type ublCategory struct {
	ID      string `xml:"cbc:ID"`
	Percent string `xml:"cbc:Percent,omitempty"` // absent in category O
	Reason  string `xml:"cbc:TaxExemptionReason,omitempty"`
	Scheme  string `xml:"cac:TaxScheme>cbc:ID"`
}

type ublTax struct {
	Amount    ublAmount     `xml:"cbc:TaxAmount"`
	Subtotals []ublSubtotal `xml:"cac:TaxSubtotal"`
}

type ublSubtotal struct {
	Taxable  ublAmount   `xml:"cbc:TaxableAmount"`
	Tax      ublAmount   `xml:"cbc:TaxAmount"`
	Category ublCategory `xml:"cac:TaxCategory"`
}

type ublSums struct {
	Lines      ublAmount  `xml:"cbc:LineExtensionAmount"`
	Exclusive  ublAmount  `xml:"cbc:TaxExclusiveAmount"`
	Inclusive  ublAmount  `xml:"cbc:TaxInclusiveAmount"`
	Allowances *ublAmount `xml:"cbc:AllowanceTotalAmount"`
	Charges    *ublAmount `xml:"cbc:ChargeTotalAmount"`
	Prepaid    *ublAmount `xml:"cbc:PrepaidAmount"`
	Rounding   *ublAmount `xml:"cbc:PayableRoundingAmount"`
	Payable    ublAmount  `xml:"cbc:PayableAmount"`
}

type ublLine struct {
	ID       int        `xml:"cbc:ID"`
	Note     string     `xml:"cbc:Note,omitempty"` // why it is not taxed
	Invoiced *ublNumber `xml:"cbc:InvoicedQuantity"`
	Credited *ublNumber `xml:"cbc:CreditedQuantity"`
	Net      ublAmount  `xml:"cbc:LineExtensionAmount"`
	Item     ublItem    `xml:"cac:Item"`
	Price    ublPrice   `xml:"cac:Price"`
}

type ublItem struct {
	Name     string      `xml:"cbc:Name"`
	Category ublCategory `xml:"cac:ClassifiedTaxCategory"`
}

type ublPrice struct {
	Amount ublAmount  `xml:"cbc:PriceAmount"`
	Base   *ublNumber `xml:"cbc:BaseQuantity"`
}
